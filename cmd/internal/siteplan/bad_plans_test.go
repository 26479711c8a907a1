package siteplan

import (
	"testing"

	"spectally/cmd/internal/badfiles"
)

const badPlansFile = "testdata/bad_plans.txt"

// TestBadPlans holds every message against the one written down, whole.
func TestBadPlans(t *testing.T) { badfiles.Check(t, badPlansFile, "mast.toml", Read) }
