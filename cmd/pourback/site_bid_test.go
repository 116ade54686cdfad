package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"reflect"
	"strings"
	"testing"
)

// TestABidOnTheSiteIsTheCommands: what somebody types into the form comes to the same
// bid as the flags of `pourback bid`, digit by digit, and what the one keeps the other
// shows.
func TestABidOnTheSiteIsTheCommands(t *testing.T) {
	inFolder(t, nil)
	if made := call(t, "demo", "--jobs", "60", "--as-of", "2026-03-31", "--quiet"); made.status != 0 {
		t.Fatal(made)
	}
	s := serve(t, "serve", "--as-of", "2026-03-31", "--listen", "127.0.0.1:0")
	defer s.stop()
	ask := func(path string, form url.Values) (text []byte, at string) {
		t.Helper()
		ctx, done := context.WithCancel(t.Context())
		defer done()
		method, body := "GET", ""
		if form != nil {
			method, body = "POST", form.Encode()
		}
		r, err := http.NewRequestWithContext(ctx, method, s.url+path, strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept", "application/json")
		r.Header.Set("Origin", s.url)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		text, err = io.ReadAll(answer.Body)
		if err != nil || answer.StatusCode != http.StatusOK {
			t.Fatalf("%s: %s %v %.300s", path, answer.Status, err, text)
		}
		return text, answer.Request.URL.Path
	}
	var kept []string
	for _, c := range []struct {
		flags []string
		form  url.Values
	}{
		{[]string{"--use", "driveway", "--length", "40", "--width", `19' 6"`, "--thickness", "4 1/2 in", "--method", "pump", "--reinforcement", "rebar", "--spacing", "10", "--month", "July"},
			url.Values{"p0.use": {"driveway"}, "p0.length_ft": {"40"}, "p0.width_ft": {`19' 6"`}, "p0.thickness_in": {"4 1/2 in"}, "p0.method": {"pump"}, "p0.reinforcement": {"rebar"}, "p0.joint_spacing_ft": {"10"}, "on": {"July"}}},
		{[]string{"--use", "patio", "--outline", "circle 30", "--thickness", "100 mm", "--crew", "Heron", "--haul", "35", "--margin", "30%", "--price", "concrete_per_yd=181.50"},
			url.Values{"p0.use": {"patio"}, "p0.outline": {"circle 30"}, "p0.thickness_in": {"100 mm"}, "crew": {"Heron"}, "haul_min": {"35"}, "target_margin": {"30%"}, "concrete_per_yd": {"181.50"}}},
	} {
		want := call(t, append([]string{"bid", "--as-of", "2026-03-31", "--json", "--dry-run", "--quiet"}, c.flags...)...).stdout
		if got, _ := ask("/bids/work", c.form); string(got) != want {
			t.Errorf("%.2000s\nwant %.2000s", got, want)
		}
		c.form.Set("form_key", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"+strings.ToUpper(c.form.Get("p0.use")))
		_, at := ask("/bids", c.form) // which leads on to the bid's page
		kept = append(kept, strings.TrimPrefix(at, "/bids/"))
	}
	for _, at := range kept {
		shown := call(t, "bids", at, "--as-of", "2026-03-31", "--json").stdout
		var one, other any
		text, _ := ask("/bids/"+at+"/json", nil)
		if err := json.Unmarshal(text, &one); err != nil {
			t.Fatal(err)
		}
		if err := json.NewDecoder(bytes.NewReader([]byte(shown))).Decode(&other); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(one, other) {
			t.Errorf("bid %s is shown otherwise by the command", at)
		}
	}
}
