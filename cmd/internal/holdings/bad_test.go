package holdings

import (
	"testing"

	"spectally/cmd/internal/badfiles"
)

// Every message is held against the one written down, whole.
func TestBadHoldings(t *testing.T) { badfiles.Check(t, "testdata/bad_holdings.txt", "held.toml", Read) }
