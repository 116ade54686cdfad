package site

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/png"
	"net"
	"net/netip"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pourback/ingest/store/storetest"
	"pourback/report/internal/browse"
)

// servedToPhones is a site at this computer and, for phones, at an address of its network, of
// which browsers do not think as well as of this computer's own; where there is none, at
// another of this computer.
func (p *place) servedToPhones(t *testing.T) Plan {
	t.Helper()
	at := netip.MustParseAddr("127.0.0.2")
	if here, err := lanHere(); err == nil && len(here) > 0 {
		at = here[0].addr
	}
	plan := Plan{Way: Way{Listen: "127.0.0.1:0"}, Access: atHome, Lan: &Access{Hosts: []string{at.String()}, Lan: true}, host: "127.0.0.1"}
	ln, err := plan.Listen(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	forPhones, err := plan.ListenLan(t.Context())
	if err != nil {
		t.Skip("this system has no second address of its own: ", err)
	}
	p.lan = plan.Lan
	p.reopen(plan.Access)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func(lns ...net.Listener) { done <- p.site.Serve(ctx, lns[0], lns[1], plan) }(ln, forPhones)
	t.Cleanup(func() {
		if stop(); <-done != nil {
			t.Error("the site did not end well")
		}
	})
	return plan
}

// tab is a page of its own in Chromium, which asks for pages in a language.
func tab(t *testing.T, at, language string, set ...chromedp.EmulateViewportOption) *window {
	t.Helper()
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	w := &window{t: t, at: at}
	ctx, cancel := chromedp.NewContext(browse.Chromium(t), chromedp.WithListener(w.listen))
	t.Cleanup(cancel)
	w.ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	wide, high := int64(1200), int64(844)
	if len(set) > 0 {
		wide, high = 360, 640
	}
	w.do(chromedp.EmulateViewport(wide, high, set...), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: "Mozilla/5.0 (a phone)", AcceptLanguage: language})
		return err
	}))
	return w
}

// read reads the code that a page shows, off a picture of it.
func (w *window) read() string {
	w.t.Helper()
	shot, err := chromedp.Run(w.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		w.t.Fatal(err)
	}
	pic, _, err := image.Decode(bytes.NewReader(shot))
	if err != nil {
		w.t.Fatal(err)
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(pic)
	if err != nil {
		w.t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		w.t.Fatal("no code is read: ", err)
	}
	return read.GetText()
}

// TestAPhoneInChromium: the owner makes a code, on a desk and on a phone; another phone
// reads it, is let in by one tap on its first screen and in its own language, and is
// taken off.
func TestAPhoneInChromium(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 60, atHome)
	plan := p.servedToPhones(t)
	owner := tab(t, plan.URL(), "en-US")
	small := tab(t, plan.URL(), "en-US", chromedp.EmulateMobile, chromedp.EmulateTouch)
	phone := tab(t, plan.LanURL(), "es-MX", chromedp.EmulateMobile, chromedp.EmulateTouch)
	phone.open("/pours")
	phone.says("Este teléfono no ha entrado.")
	phone.forget()
	for i, w := range []*window{small, owner} {
		w.open("/users")
		w.sound("/users")
		w.lookAt(fmt.Sprint("users ", i))
		w.do(chromedp.SendKeys(chromedp.CSS(`form[action="/users/phone"] input[name=name]`), fmt.Sprint("Luis ", i)))
		w.option(`form[action="/users/phone"] select`, p.set.Placements[0].Crew)
		w.press("/users/phone")
		w.sound("the code")
		w.lookAt(fmt.Sprint("code ", i))
		w.says("It works once, for 15 minutes", "not encrypted")
		link := w.read()
		if shown := ask[string](w, `document.querySelector('input[readonly]').value`); link != shown || !strings.HasPrefix(link, plan.LanURL()+"/join?t=") {
			t.Errorf("the code says %q, the link %q", link, shown)
		}
		phone.do(chromedp.Navigate(link))
		phone.says(fmt.Sprint("Luis ", i), "No necesita contraseña")
		phone.sound("joining")
		phone.lookAt(fmt.Sprint("join ", i))
		if below := ask[float64](phone, `document.querySelector('main button').getBoundingClientRect().bottom`); below > 640 {
			t.Errorf("the button ends at %v, below the first screen", below)
		}
		phone.tap("Usar este teléfono")
		if at := phone.path(); at != "/crew" {
			t.Error("let in, and at ", at)
		}
		for _, path := range []string{"/", "/pours", "/visits", "/you"} {
			phone.open(path)
			phone.sound(path)
			phone.lookAt(fmt.Sprint("phone ", i, path))
		}
		phone.says(fmt.Sprint("Este es el teléfono de Luis ", i))
	}
	owner.open("/users")
	owner.says("Luis 0", "Luis 1", "Last seen within the hour.")
	for range 2 {
		owner.open("/users")
		owner.button("Take this phone off")
	}
	owner.sound("/users")
	phone.open("/pours")
	phone.says("Este teléfono no ha entrado.")
}

// tap touches a button by what stands on it.
func (w *window) tap(text string) {
	w.t.Helper()
	ask[bool](w, `window.pressed = true`)
	if !slices.Contains(ask[[]string](w, `[...document.querySelectorAll('main button')].map(b => b.textContent.trim())`), text) {
		w.t.Fatalf("there is no button %q", text)
	}
	w.do(chromedp.Tap(chromedp.CSS(`main button`)))
	w.waitFor(`!window.pressed && document.readyState === 'complete'`)
}
