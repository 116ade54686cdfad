package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"net/http"

	"pourback/report/out"
)

// file is a style or a script, under a name that changes with what is in it: a
// browser need never ask for it twice.
type file struct {
	path, kind   string
	text, packed []byte
}

var (
	reportStyle  = fileOf("report", "css", "text/css; charset=utf-8", []byte(out.SiteStyle()))
	siteStyle    = fileOf("site", "css", "text/css; charset=utf-8", append(embedded("assets/site.css"), embedded("assets/records.css")...))
	reportScript = fileOf("report", "js", "text/javascript; charset=utf-8", []byte(out.SiteScript()))
	siteScript   = fileOf("site", "js", "text/javascript; charset=utf-8", append(embedded("assets/site.js"), embedded("assets/drop.js")...))

	assets = map[string]*file{}
)

func init() {
	for _, f := range []*file{reportStyle, siteStyle, reportScript, siteScript} {
		assets[f.path] = f
	}
}

func embedded(name string) []byte {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // it was embedded when the program was built
	}
	return b
}

func fileOf(name, ext, kind string, text []byte) *file {
	sum := sha256.Sum256(text)
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	z.Write(text)
	z.Close()
	return &file{"/assets/" + name + "-" + hex.EncodeToString(sum[:6]) + "." + ext, kind, text, packed.Bytes()}
}

// asset is a style or a script.
func asset(a *Ask) error {
	f := assets[a.URL.Path]
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
