package site

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"
)

// pageKey is what a page as sent hangs on.
type pageKey struct {
	answer uint64 // its number: another version is another answer
	choice Choice
	slug   string
	who    Roles
	local  bool
	old    bool // it says that it is out of date
}

// kept is a page as it is sent.
type kept struct {
	etag   string
	packed []byte // by gzip
	used   uint64
	last   time.Time // asked for
}

// mostPages is how many bytes of pages are kept.
const mostPages = 24 << 20

// pageCache keeps pages as they are sent, those that were asked for last.
type pageCache struct {
	mu    sync.Mutex
	pages map[pageKey]*kept
	bytes int
	clock uint64
}

// get is a page that is kept, or nil.
func (c *pageCache) get(k pageKey) *kept {
	c.mu.Lock()
	defer c.mu.Unlock()
	p := c.pages[k]
	if p != nil {
		c.touch(p)
	}
	return p
}

func (c *pageCache) touch(p *kept) {
	c.clock++
	p.used, p.last = c.clock, time.Now()
}

// lately are the pages of an answer that were asked for since then, the last first.
func (c *pageCache) lately(answer uint64, since time.Time) (keys []pageKey) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for k, p := range c.pages {
		if k.answer == answer && p.last.After(since) {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b pageKey) int { return cmp.Compare(c.pages[b].used, c.pages[a].used) })
	return keys
}

// packers pack pages: one takes far more room than a page does.
var packers = sync.Pool{New: func() any { return gzip.NewWriter(nil) }}

// put keeps a page, in place of those that were not asked for the longest.
func (c *pageCache) put(k pageKey, html []byte) (*kept, error) {
	var packed bytes.Buffer
	z := packers.Get().(*gzip.Writer)
	defer func() {
		z.Reset(nil) // or it keeps what it packed last
		packers.Put(z)
	}()
	z.Reset(&packed)
	if _, err := z.Write(html); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	p := &kept{etag: etagOf(html), packed: packed.Bytes()}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pages == nil {
		c.pages = map[pageKey]*kept{}
	}
	c.touch(p)
	if was := c.pages[k]; was != nil {
		c.bytes -= len(was.packed)
	}
	c.pages[k] = p
	c.bytes += len(p.packed)
	for c.bytes > mostPages && len(c.pages) > 1 {
		c.dropOldest()
	}
	return p, nil
}

func (c *pageCache) dropOldest() {
	var oldest pageKey
	var last *kept
	for k, p := range c.pages {
		if last == nil || p.used < last.used {
			oldest, last = k, p
		}
	}
	c.bytes -= len(last.packed)
	delete(c.pages, oldest)
}

// send sends a page, unless the browser has it.
func (p *kept) send(w http.ResponseWriter, r *http.Request) error {
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Cache-Control", "private, no-cache")
	h.Set("Vary", "Accept-Encoding, Cookie")
	h.Set("ETag", p.etag)
	if matches(r.Header.Get("If-None-Match"), p.etag) {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	if takesGzip(r) {
		h.Set("Content-Encoding", "gzip")
		_, err := w.Write(p.packed)
		return err
	}
	z, err := gzip.NewReader(bytes.NewReader(p.packed))
	if err != nil {
		return err
	}
	_, err = io.Copy(w, z)
	return err
}

// etagOf names what is sent: the same name, the same bytes (RFC 9110, 8.8.3).
func etagOf(content []byte) string {
	sum := sha256.Sum256(content)
	return `"` + hex.EncodeToString(sum[:12]) + `"`
}

// matches says whether a browser has what an ETag names (RFC 9110, 13.1.2: by
// weak comparison).
func matches(has, etag string) bool {
	for one := range strings.SplitSeq(has, ",") {
		if one = strings.TrimPrefix(strings.TrimSpace(one), "W/"); one == etag || one == "*" {
			return true
		}
	}
	return false
}

// takesGzip says whether a browser takes what is packed by gzip (RFC 9110,
// 12.5.3). What is refused by a weight of zero is not taken.
func takesGzip(r *http.Request) bool {
	for one := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(one), ";")
		if name = strings.TrimSpace(name); name == "gzip" || name == "*" {
			return strings.Trim(strings.TrimPrefix(strings.ReplaceAll(weight, " ", ""), "q="), "0.") != "" || weight == ""
		}
	}
	return false
}
