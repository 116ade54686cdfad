package ingest_test

import (
	"os"
	"testing"

	"pourback/ingest/store/storetest"
)

func TestMain(m *testing.M) { os.Exit(storetest.Main(m)) }
