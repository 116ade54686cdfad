package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"
)

// selfSigned writes a certificate of this computer and its key.
func selfSigned(t *testing.T) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	of := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "localhost"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, DNSNames: []string{"localhost"}}
	der, err := x509.CreateCertificate(rand.Reader, of, of, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	for name, block := range map[string]*pem.Block{"cert.pem": {Type: "CERTIFICATE", Bytes: der}, "key.pem": {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return "cert.pem", "key.pem"
}

// TestServeToOthers: with a certificate and an owner it starts on every address,
// wants everybody to sign in, and its cookie travels by https alone.
func TestServeToOthers(t *testing.T) {
	inFolder(t, nil)
	cert, key := selfSigned(t)
	args := []string{"serve", "--listen", "0.0.0.0:0", "--tls-cert", cert, "--tls-key", key}
	call(t, args...).want(t, exitUsage, "it has no users")
	call(t, append(args, "--add-owner", "Ana")...).want(t, exitDone, "https://127.0.0.1:0/join?t=")
	call(t, args...).want(t, exitUsage, "it has no users") // the link waits to be used
	call(t, append(args[:3:3], "--add-owner", "Ana")...).want(t, exitDone)

	emptyDatabase(t, "own.db")
	link := strings.TrimSpace(call(t, "serve", "--add-owner", "Ana", "--db", "own.db").stdout)
	local := serve(t, "serve", "--listen", "127.0.0.1:0", "--db", "own.db")
	token := link[strings.Index(link, "t=")+2:]
	if status, body := send(t, local.url, "/join", map[string][]string{"token": {token}, "password": {"long enough now"}, "again": {"long enough now"}}); status != http.StatusSeeOther {
		t.Fatalf("%d %.400s", status, body)
	}
	local.stop()

	s := serve(t, append(args, "--db", "own.db")...)
	if !strings.HasPrefix(s.url, "https://127.0.0.1:") {
		t.Fatal(s.url)
	}
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	resp, err := client.Get(s.url + "/users")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusSeeOther || resp.Header.Get("Location") != "/login" || !strings.Contains(resp.Header.Get("Set-Cookie"), "Secure") {
		t.Error(resp.Status, resp.Header)
	}
	second := serve(t, append(args[:1:1], "--listen", "0.0.0.0:"+s.url[strings.LastIndex(s.url, ":")+1:], "--tls-cert", cert, "--tls-key", key, "--db", "own.db")...)
	if second.stop() != exitDone || !strings.Contains(second.errs.String(), "running already") {
		t.Error(second.errs)
	}
	call(t, "serve", "--listen", "127.0.0.1:0", "--db", "own.db", "--tls-cert", key, "--tls-key", cert).want(t, exitFailed, "PEM")
}
