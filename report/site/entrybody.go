package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"

	"pourback/ingest"
)

// mostEntry is how much an entry may be with its pictures: it is held in memory.
const mostEntry = 32 << 20

// mostPictures is how many pictures an entry may bring.
const mostPictures = 12

// takeEntry reads an entry, fields alone or fields with pictures, and begins its deed.
func (a *Ask) takeEntry() error {
	if err := a.often(); err != nil {
		return err
	}
	sent, err := a.readEntry()
	if err != nil {
		return err
	}
	ctx, err := a.Once(a.PostFormValue(keyField), sent)
	if err == nil {
		a.Request = a.Request.WithContext(ctx)
	}
	return err
}

// readEntry reads the fields and the pictures; sent tells them from others.
func (a *Ask) readEntry() (sent string, err error) {
	kind, _, err := mime.ParseMediaType(a.Header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		a.Body = http.MaxBytesReader(a.W, a.Body, mostForm)
		if err := a.ParseForm(); err != nil {
			return "", badForm(err)
		}
		return digest(a.PostForm), nil
	}
	a.Body = &patient{http.MaxBytesReader(a.W, a.Body, mostEntry), http.NewResponseController(a.W)}
	sum := sha256.New()
	fields, err := a.Parts(func(_ url.Values, part *multipart.Part) error {
		content, err := io.ReadAll(part)
		if err != nil {
			return badForm(err)
		}
		if len(a.Pictures) == mostPictures {
			return badForm(errors.New("too many pictures"))
		}
		own := sha256.Sum256(content)
		sum.Write(own[:])
		a.Pictures = append(a.Pictures, ingest.PictureFile{Name: part.FileName(), Read: func() ([]byte, error) { return bytes.Clone(content), nil }})
		return nil
	})
	if err != nil {
		return "", err
	}
	a.PostForm, a.Form = fields, fields
	return digest(fields) + "." + hex.EncodeToString(sum.Sum(nil)), nil
}
