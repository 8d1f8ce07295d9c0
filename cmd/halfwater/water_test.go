package main

import (
	"strings"
	"testing"

	"halfwater/internal/say"
	"halfwater/water"
)

// TestWaterCodesHaveSentences: every note on an analysis and every care of a salt can be said.
func TestWaterCodesHaveSentences(t *testing.T) {
	codes := []string{
		string(water.SplitAssumed), string(water.NitrateAssumed), string(water.SodiumAssumed), string(water.KHAssumed),
		string(water.ECDiffers), string(water.ECBelowIons), string(water.LooksSoftened), string(water.HardnessBounded),
		string(water.GHAndIonsDiffer),
	}
	for _, s := range water.Salts() {
		if s.Care != water.NoCare {
			codes = append(codes, string(s.Care))
		}
	}
	for _, c := range codes {
		if s := say.Sentence(c, nil); strings.HasPrefix(s, "[") || s == "" {
			t.Errorf("%s has no sentence: %q", c, s)
		}
	}
}
