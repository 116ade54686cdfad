package site

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"

	"pourback/report/say"
)

// How passwords are hashed: argon2id (RFC 9106) at the least that OWASP's Password
// Storage Cheat Sheet names for it, 19 MiB of memory and 2 passes.
const (
	hashPasses  = 2
	hashMemory  = 19 << 10 // KiB
	hashThreads = 1
	hashBytes   = 32
	saltBytes   = 16

	leastPassword = 10
	mostPassword  = 200
)

// HashPassword hashes a password as it is kept, in the usual string form.
func HashPassword(password string) string {
	salt := make([]byte, saltBytes)
	rand.Read(salt)
	sum := argon2.IDKey([]byte(password), salt, hashPasses, hashMemory, hashThreads, hashBytes)
	b64 := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, hashMemory, hashPasses, hashThreads, b64.EncodeToString(salt), b64.EncodeToString(sum))
}

// nobodysHash is what a password is held against where there is no such user, so
// that it takes as long.
var nobodysHash = fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA", argon2.Version, hashMemory, hashPasses, hashThreads)

// samePassword says whether a password is the one that was hashed.
func samePassword(password, kept string) bool {
	parts := strings.Split(kept, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return false
	}
	var version, memory, passes, threads int
	if _, err := fmt.Sscanf(parts[2]+" "+parts[3], "v=%d m=%d,t=%d,p=%d", &version, &memory, &passes, &threads); err != nil || version != argon2.Version ||
		memory < 8 || memory > 1<<20 || passes < 1 || passes > 100 || threads < 1 || threads > 64 {
		return false
	}
	salt, err1 := base64.RawStdEncoding.DecodeString(parts[4])
	sum, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	if err1 != nil || err2 != nil || len(sum) < 16 {
		return false
	}
	got := argon2.IDKey([]byte(password), salt, uint32(passes), uint32(memory), uint8(threads), uint32(len(sum)))
	return subtle.ConstantTimeCompare(got, sum) == 1
}

// hashed runs what hashes a password, no more at once than memory is meant for.
func (s *Site) hashed(ctx context.Context, work func()) error {
	select {
	case s.hashing <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-s.hashing }()
	work()
	return nil
}

// CheckPassword says what is wrong with a new password, if anything is.
func CheckPassword(password string) error {
	switch n := len([]rune(password)); {
	case n < leastPassword:
		return Wrong(say.Site.ShortPass, say.Site.ShortPassDo)
	case n > mostPassword:
		return Wrong(say.Site.LongPass, say.Site.LongPassDo)
	}
	return nil
}

// NewToken is what nobody can guess, with what the database holds of it: who
// reads the database cannot use it.
func NewToken() (token, hash string) {
	token = rand.Text()
	return token, tokenHash(token)
}

func tokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}
