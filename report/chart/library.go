package chart

import (
	"bytes"
	"compress/gzip"
	"embed"
	"fmt"
	"io"
	"sync"
)

//go:embed assets/echarts/echarts.min.js.gz
var EchartsGz []byte

// ChartScript is what a chart's data leaves open, for live and still charts alike.
//
//go:embed assets/chart.js
var ChartScript string

//go:embed assets/still.js
var stillScript string

// LibraryName is the drawing library as it lies beside a folder's pages.
const LibraryName = "echarts-5.6.0.js"

//go:embed assets/echarts/NOTICE assets/echarts/LICENSE assets/echarts/LICENSE-d3 assets/echarts/LICENSE-zrender
var licences embed.FS

// NoticeName is whose work the drawing library is, as it lies beside it: the
// script itself refers to a file of this name.
const NoticeName = "NOTICE"

// Notice is the library's notice and the licences of all that is in it.
func Notice() ([]byte, error) {
	var all [][]byte
	for _, name := range []string{"NOTICE", "LICENSE", "LICENSE-d3", "LICENSE-zrender"} {
		text, err := licences.ReadFile("assets/echarts/" + name)
		if err != nil {
			return nil, fmt.Errorf("drawing library: %w", err)
		}
		all = append(all, text)
	}
	return bytes.Join(all, []byte("\n\n----\n\n")), nil
}

// Library is the drawing library, unpacked once.
var Library = sync.OnceValues(func() (string, error) {
	z, err := gzip.NewReader(bytes.NewReader(EchartsGz))
	if err != nil {
		return "", fmt.Errorf("drawing library: %w", err)
	}
	text, err := io.ReadAll(z)
	return string(text), err
})
