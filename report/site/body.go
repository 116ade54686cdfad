package site

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"time"
)

// patient is a body that may take as long as it needs, so long as it is never
// silent for long.
type patient struct {
	io.ReadCloser
	to *http.ResponseController
}

func (p *patient) Read(b []byte) (int, error) {
	p.to.SetReadDeadline(time.Now().Add(silence)) // where there is none to set, there is no silence either
	return p.ReadCloser.Read(b)
}

// mostField is how long a field of an upload may be.
const mostField = 64 << 10

// Parts reads an upload as it comes: fields are gathered, and each file is handed
// over with the fields that stand before it. Nothing of it touches the disk. Put
// the hidden key before the files.
func (a *Ask) Parts(file func(fields url.Values, part *multipart.Part) error) (url.Values, error) {
	fields := url.Values{}
	r, err := a.MultipartReader()
	if err != nil {
		return nil, badForm(err)
	}
	for {
		part, err := r.NextPart()
		if errors.Is(err, io.EOF) {
			return fields, nil
		}
		if err != nil {
			return nil, badForm(err)
		}
		if part.FileName() != "" {
			if err := file(fields, part); err != nil {
				return nil, err
			}
			continue
		}
		text, err := io.ReadAll(http.MaxBytesReader(a.W, part, mostField))
		if err != nil || len(fields) > 200 {
			return nil, badForm(err)
		}
		fields.Add(part.FormName(), string(text))
	}
}
