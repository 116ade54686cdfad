// Package browse opens pages in the browsers that are at hand, for tests.
package browse

import (
	"context"
	"os"
	"os/exec"
	"slices"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// shared is the one Chromium of all tests, started when the first asks for it.
var shared struct {
	start  sync.Once
	ctx    context.Context
	cancel []context.CancelFunc
	err    error
}

// Close ends the shared Chromium, if it was started.
func Close() {
	for _, cancel := range slices.Backward(shared.cancel) {
		cancel()
	}
}

// Chromium is one, shared by all tests of a package. Where there is none the test is skipped, or fails if
// POURBACK_REQUIRE_CHROMIUM is set.
func Chromium(t testing.TB) context.Context {
	t.Helper()
	path := chromiumPath()
	if path == "" {
		if os.Getenv("POURBACK_REQUIRE_CHROMIUM") != "" {
			t.Fatal("POURBACK_REQUIRE_CHROMIUM is set, and no Chromium was found on the PATH")
		}
		t.Skip("no Chromium was found on the PATH: the pages were not tried in a browser")
	}
	shared.start.Do(func() { shared.err = startBrowser(path) })
	if shared.err != nil {
		t.Fatal("Chromium did not start: ", shared.err)
	}
	return shared.ctx
}

func chromiumPath() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "headless-shell"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	return ""
}

func startBrowser(path string) error {
	var err error
	shared.ctx, shared.cancel, err = start(path)
	return err
}

// start starts one, with more flags than the usual ones.
func start(path string, more ...chromedp.ExecAllocatorOption) (context.Context, []context.CancelFunc, error) {
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	ctx, cancelAllocator := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	ctx, cancel := chromedp.NewContext(ctx)
	return ctx, []context.CancelFunc{cancelAllocator, cancel}, chromedp.Do(ctx)
}

// OwnChromium is one for a test alone, with flags of its own, whose profile is in a folder
// that another may have left. What it returns beside it ends it as a phone does that
// falls into the water.
func OwnChromium(t testing.TB, profile string, flags map[string]any) (ctx context.Context, kill func()) {
	t.Helper()
	Chromium(t) // is there one at all?
	options := []chromedp.ExecAllocatorOption{chromedp.UserDataDir(profile)}
	for name, value := range flags {
		options = append(options, chromedp.Flag(name, value))
	}
	ctx, cancel, err := start(chromiumPath(), options...)
	if err != nil {
		t.Fatal("Chromium did not start: ", err)
	}
	t.Cleanup(func() {
		for _, end := range slices.Backward(cancel) {
			end()
		}
	})
	return ctx, func() {
		process := chromedp.FromContext(ctx).Browser.Process()
		if err := process.Kill(); err != nil {
			t.Fatal(err)
		}
		for _, end := range slices.Backward(cancel) {
			end()
		}
	}
}
