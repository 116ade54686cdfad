package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"sync"

	"pourback/report/out"
)

// file is a style or a script, under a name that changes with what is in it: a
// browser need never ask for it twice.
type file struct {
	path, kind   string
	text, packed []byte
}

// The files are packed once they are asked for: every other command starts without.
var (
	reportStyle  = fileOf("report", "css", cssKind, func() []byte { return []byte(out.SiteStyle()) })
	siteStyle    = fileOf("site", "css", cssKind, embedded("assets/site.css", "assets/records.css"))
	reportScript = fileOf("report", "js", jsKind, func() []byte { return []byte(out.SiteScript()) })
	siteScript   = fileOf("site", "js", jsKind, embedded("assets/site.js", "assets/drop.js", "assets/fresh.js"))

	bidStyle     = fileOf("bid", "css", cssKind, embedded("assets/bid.css"))
	followScript = fileOf("follow", "js", jsKind, embedded("assets/follow.js"))

	crewStyle   = fileOf("crew", "css", cssKind, embedded("assets/bid.css", "assets/crew.css"))
	formsScript = fileOf("forms", "js", jsKind, embedded("assets/forms.js"))

	visitStyle  = fileOf("visit", "css", cssKind, embedded("assets/bid.css", "assets/crew.css", "assets/visit.css"))
	visitScript = fileOf("visit", "js", jsKind, embedded("assets/visit.js"))
)

const (
	cssKind = "text/css; charset=utf-8"
	jsKind  = "text/javascript; charset=utf-8"
)

// assets are the files by their path.
var assets = sync.OnceValue(func() map[string]*file {
	all := map[string]*file{}
	for _, f := range []func() *file{reportStyle, siteStyle, reportScript, siteScript, bidStyle, followScript, crewStyle, formsScript, visitStyle, visitScript, queueStyle, queueScript} {
		all[f().path] = f()
	}
	return all
})

// besides are the style and the script that only some pages have, by their template.
var besides = map[string]struct{ style, script func() *file }{"bid": {bidStyle, followScript}, "balance": {crewStyle, followScript}, "bids": {bidStyle, nil}, "kept": {bidStyle, nil}, "crew": {crewStyle, formsScript}, "pour": {crewStyle, formsScript},
	"visits": {visitStyle, nil}, "slab": {visitStyle, nil}, "visit": {visitStyle, visitScript}, "picture": {visitStyle, nil}, "feed": {bidStyle, nil}, "compared": {bidStyle, nil}}

// embedded reads files one behind the other.
func embedded(names ...string) func() []byte {
	return func() (text []byte) {
		for _, name := range names {
			b, err := files.ReadFile(name)
			if err != nil {
				panic(err) // it was embedded when the program was built
			}
			text = append(text, b...)
		}
		return text
	}
}

func fileOf(name, ext, kind string, read func() []byte) func() *file {
	return sync.OnceValue(func() *file {
		text := read()
		sum := sha256.Sum256(text)
		var packed bytes.Buffer
		z := gzip.NewWriter(&packed)
		z.Write(text)
		z.Close()
		return &file{"/assets/" + name + "-" + hex.EncodeToString(sum[:6]) + "." + ext, kind, text, packed.Bytes()}
	})
}

// asset is a style or a script.
func asset(a *Ask) error {
	f := assets()[a.URL.Path]
	if f == nil {
		return notFound()
	}
	h := a.W.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Cache-Control", "public, max-age=31536000, immutable")
	h.Set("Vary", "Accept-Encoding")
	text := f.text
	if takesGzip(a.Request) {
		h.Set("Content-Encoding", "gzip")
		text = f.packed
	}
	a.W.WriteHeader(http.StatusOK)
	_, err := a.W.Write(text)
	return err
}
