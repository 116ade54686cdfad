package browse

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"sync"
)

// AxeFolder is where axe lies, from a room of the report.
const AxeFolder = "../out/testdata/axe"

// Axe is the checker of names, roles and contrast that lies in report/out, for
// tests only. It is the file whose digest VERSIONS gives.
var Axe = sync.OnceValues(func() (string, error) {
	packed, err := os.ReadFile(filepath.Join(AxeFolder, "axe.min.js.gz"))
	if err != nil {
		return "", err
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return "", err
	}
	text, err := io.ReadAll(z)
	return string(text), err
})

// AxeViolations is an expression of a page that comes to what axe finds on it,
// by the rules that an option of axe.run names; "" for all.
func AxeViolations(only string) (string, error) {
	checker, err := Axe()
	return checker + `;
		axe.run(document, {` + only + `resultTypes: ['violations'], elementRef: false}).then(r => r.violations.map(x => ({
			id: x.id, help: x.help, nodes: x.nodes.slice(0, 3).map(n => n.target.join(' ') + ': ' + n.failureSummary)})))`, err
}
