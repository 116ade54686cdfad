package chart

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"fmt"
	"io"
	"sync"
)

//go:embed assets/echarts/echarts.min.js.gz
var EchartsGz []byte

// chartScript is what a chart's data leaves open, for live and still charts alike.
//
//go:embed assets/chart.js
var ChartScript string

//go:embed assets/still.js
var stillScript string

// libraryName is the drawing library as it lies beside a folder's pages.
const LibraryName = "echarts-5.6.0.js"

// library is the drawing library, unpacked once.
var Library = sync.OnceValues(func() (string, error) {
	z, err := gzip.NewReader(bytes.NewReader(EchartsGz))
	if err != nil {
		return "", fmt.Errorf("drawing library: %w", err)
	}
	text, err := io.ReadAll(z)
	return string(text), err
})
