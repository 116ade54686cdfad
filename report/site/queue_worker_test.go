package site

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/base64"
	"math/big"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

// certificate is one of a name, and the hash of its key by which a browser may be told to
// trust it: where it only overlooks an error, it registers no worker.
func certificate(t *testing.T, name string) (tls.Certificate, string) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	is := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: name}, DNSNames: []string{name}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(24 * time.Hour)}
	der, err := x509.CreateCertificate(rand.Reader, is, is, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	spki, err := x509.MarshalPKIXPublicKey(&key.PublicKey)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(spki)
	return tls.Certificate{Certificate: [][]byte{der}, PrivateKey: key}, base64.StdEncoding.EncodeToString(sum[:])
}

// secure serves a bench by https under a name, and opens a phone that trusts it.
func secure(t *testing.T) (*bench, *window) {
	t.Helper()
	access := atHome
	access.Loopback, access.Secure, access.Hosts = false, true, []string{"pours.test"}
	b := newBench(t, access)
	b.user("Ana", Crew)
	b.user("Bo", Crew)
	cert, spki := certificate(t, "pours.test")
	server := httptest.NewUnstartedServer(b.site)
	server.TLS = &tls.Config{Certificates: []tls.Certificate{cert}}
	server.StartTLS()
	t.Cleanup(server.Close)
	b.line.to = server.Listener.Addr().String()
	browser, _ := browse.OwnChromium(t, t.TempDir(), map[string]any{"host-resolver-rules": "MAP pours.test 127.0.0.1", "ignore-certificate-errors-spki-list": spki})
	w := phone(t, browser, "https://pours.test"+b.line.at[strings.LastIndex(b.line.at, ":"):])
	w.signsIn("Ana")
	w.open("/pour/bench/day")
	w.until(`navigator.serviceWorker.getRegistration().then(r => r?.active?.state === "activated")`)
	w.until(`!!navigator.serviceWorker.controller`)
	w.open("/pour/bench/day")
	return b, w
}

// caches is what the worker has kept: pages by user and path.
const cachedPages = `caches.keys().then(names => Promise.all(names.filter(n => n.startsWith('pages of ')).map(n => caches.open(n).then(c => c.keys()).then(keys => keys.map(k => n.slice(9) + ' ' + new URL(k.url).pathname))))).then(all => all.flat().sort())`

// TestTheFormsOpenWithoutSignal: by https the page of a pour is there with the site
// stopped, says of when it is, and its forms keep what is entered; what is no page of a
// crew is not there.
func TestTheFormsOpenWithoutSignal(t *testing.T) {
	b, w := secure(t)
	w.until(`document.documentElement.dataset.lastSeen === undefined`)
	b.line.is(refuses)
	w.open("/pour/bench/day")
	w.until(`document.body.innerText.includes('This is the page as it was at')`)
	w.sound("the page as it was")
	w.lookAt("queue-last-seen")
	w.enter(0, "ticket", "4711")
	w.open("/pour/bench/day?lang=es")
	w.until(status + `?.includes('No connection')`)
	b.line.is(swallows) // there is signal, and nothing comes
	began := time.Now()
	w.open("/pour/bench/day")
	if waited := time.Since(began); waited < 3*time.Second || waited > 20*time.Second {
		t.Errorf("the page was there after %v", waited)
	}
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 1`)
	b.line.is(refuses)
	if err := chromedp.Do(w.ctx, chromedp.Navigate(w.at+"/visits")); err == nil {
		t.Error("a page that is none of the forms is there without the site: ", ask[string](w, `document.body.innerText.slice(0, 300)`))
	}
	b.line.is(fine)
	w.open("/pour/bench/day")
	w.until(`document.documentElement.dataset.lastSeen === undefined`)
	b.becomes(t, "truck 4711")
	w.until(`document.querySelectorAll('.record li').length === 1`)
	w.until(`caches.match(location.href).then(a => a.text()).then(text => text.includes('<li>truck 4711'))`) // the worker has it too
	b.line.is(refuses)
	w.open("/pour/bench/day")
	w.until(`document.querySelectorAll('.record li').length === 1`) // as it was seen last, with what was kept meanwhile
}

// TestPagesAreOfOneUser: nothing of them is left once somebody has signed out, was signed
// out, or is another.
func TestPagesAreOfOneUser(t *testing.T) {
	b, w := secure(t)
	is := func(want ...string) {
		t.Helper()
		w.until(cachedPages + `.then(is => is.join() === '` + strings.Join(want, ",") + `')`)
	}
	w.open("/visits")
	w.open("/pour/else/day")
	is("1 /pour/bench/day", "1 /pour/else/day")
	w.open("/you")
	w.press("/logout")
	is()
	w.signsIn("Bo")
	w.open("/pour/bench/day")
	is("2 /crew", "2 /pour/bench/day")
	w.open("/pour/else/day")
	if err := b.store.EndSessions(t.Context(), 2); err != nil {
		t.Fatal(err)
	}
	w.open("/pour/else/day")
	if at := ask[string](w, `location.pathname`); at != "/login" {
		t.Error("signed out by the owner, and at ", at)
	}
	is()
	b.line.is(refuses)
	if err := chromedp.Do(w.ctx, chromedp.Navigate(w.at+"/pour/bench/day")); err == nil {
		t.Error("who was signed out sees the page as it was")
	}
}

// TestAnUpdateIsSeen: a page is that of the site whenever the site answers, and what
// belongs to one that is kept stays with it.
func TestAnUpdateIsSeen(t *testing.T) {
	b, w := secure(t)
	assets := `caches.open('assets').then(c => c.keys()).then(keys => keys.map(k => new URL(k.url).pathname).sort())`
	before := ask[[]string](w, assets)
	if len(before) < 5 {
		t.Fatalf("kept are %q", before)
	}
	was := shown()["bench"]
	defer func() { shown()["bench"] = was }()
	b.reread("Kept anew")
	w.open("/pour/bench/day")
	if heading := ask[string](w, `document.querySelector('[data-part] h2').textContent`); heading != "Kept anew" {
		t.Error("the page is as it was: ", heading)
	}
	// An asset of an earlier program that nothing has any more goes with the next version.
	ask[bool](w, `caches.open('assets').then(c => c.put('/assets/old-000000000000.js', new Response('1'))).then(() => true)`)
	ask[bool](w, `navigator.serviceWorker.getRegistration().then(r => r.unregister())`)
	w.open("/pour/bench/day")
	w.until(`navigator.serviceWorker.getRegistration().then(r => r?.active?.state === "activated")`)
	w.until(assets + `.then(all => !all.includes('/assets/old-000000000000.js'))`)
	if after := ask[[]string](w, assets); strings.Join(after, " ") != strings.Join(before, " ") {
		t.Errorf("kept are %q, before %q", after, before)
	}
}
