package fieldlog

import (
	"testing"

	"spectally/cmd/internal/badfiles"
)

const badLogsFile = "testdata/bad_logs.txt"

// TestBadLogs holds every message against the one written down, whole.
func TestBadLogs(t *testing.T) { badfiles.Check(t, badLogsFile, "pier.toml", Read) }
