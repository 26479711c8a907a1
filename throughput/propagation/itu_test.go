package propagation

import (
	"bufio"
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
)

// published reads a file of check values: each row by the names of its columns. A column
// that is empty is zero.
func published(t *testing.T, file string, rows int) (numbers []map[string]float64, words []map[string]string) {
	t.Helper()
	f, err := os.Open("../../testdata/propagation/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(bufio.NewReader(f))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) != rows+1 {
		t.Fatalf("%s: %d rows, %v", file, len(all)-1, err)
	}
	for _, row := range all[1:] {
		n, w := make(map[string]float64), make(map[string]string)
		for i, name := range all[0] {
			w[name] = row[i]
			n[name], _ = strconv.ParseFloat(row[i], 64) // words are in the other map
		}
		numbers, words = append(numbers, n), append(words, w)
	}
	return numbers, words
}

func gigahertz(v float64) bands.Frequency { return bands.Frequency(math.Round(v * 1e9)) }

// Validation values of ITU-R study group 3 for Recommendation ITU-R P.2109-1. Where the
// probability is written with few digits, the loss may be what any of the probabilities
// that round to it give.
func TestBuildingEntryLoss(t *testing.T) {
	numbers, words := published(t, "itu_p2109.csv", 284)
	for i, v := range numbers {
		class := BuildingClass(v["building_class"] - 1)
		at := func(percent float64) float64 {
			l, err := BuildingEntryLoss(class, gigahertz(v["f_ghz"]), v["elevation_deg"], percent/100)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		half := halfDigit(words[i]["percent"])
		low, high := at(v["percent"]-half)-0.0076, at(min(v["percent"]+half, 100-1e-9))+0.0076
		if v["loss_db"] < low || v["loss_db"] > high {
			t.Errorf("row %d %v: %v to %v", i+1, words[i], low, high)
		}
	}
}

// halfDigit is half a unit of the last digit of a number as it is written, for those near 0
// and 100 per cent, where that matters; zero else.
func halfDigit(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	if v >= 0.1 && v <= 99.9 {
		return 0
	}
	mantissa, exponent, _ := strings.Cut(s, "e")
	_, fraction, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exponent)
	return 0.5 * math.Pow(10, float64(e-len(fraction)))
}

// Test values for Recommendation ITU-R P.2108-1, to 0.1 dB. The categories of the file are
// water, open, suburban, urban, trees and dense urban.
func TestClutterLoss(t *testing.T) {
	numbers, words := published(t, "itu_p2108.csv", 32)
	for i, v := range numbers {
		f := gigahertz(v["f_ghz"])
		var got float64
		var err error
		switch words[i]["clause"] {
		case "3.2 terrestrial":
			got, err = ClutterLoss(f, 1000*v["d_km"], v["percent"]/100)
		case "3.1 height gain":
			category := [...]Clutter{1: Water, OpenRural, Suburban, Urban, Urban, DenseUrban}[int(v["clutter_type"])]
			got, err = HeightGainLoss(category, f, v["h_m"], v["clutter_height_m"], v["street_m"])
		case "3.3 earth-space":
			got, err = SkyClutterLoss(f, v["elevation_deg"], v["percent"]/100)
		default:
			t.Fatal(words[i])
		}
		if err != nil || math.Abs(got-v["loss_db"]) > 0.0501 {
			t.Errorf("row %d %v: %v, %v", i+1, words[i], got, err)
		}
	}
}

// Validation values of an open implementation that follows the reference of ITU-R study group
// 3 for the site-general model of Recommendation ITU-R P.1411-11, clause 4.1.1.
func TestStreetLoss(t *testing.T) {
	numbers, words := published(t, "itu_p1411.csv", 60)
	rows := map[string][2]string{"URBAN": {"street", "los"}, "HIGH_RISE_URBAN": {"street", "nlos"}, "RESIDENTIAL": {"street-residential", "nlos"}}
	for i, v := range numbers {
		f := loadStreets().rows[rows[words[i]["environment"]]]
		if got := f.at(v["f_ghz"], v["d_m"]); math.Abs(got-v["loss_db"]) > 0.0001 {
			t.Errorf("row %d %v: %v", i+1, words[i], got)
		}
	}
}

// Tables 7.4.3-1 and 7.4.3-2 of TR 38.901 V19.4.0, row by row, and its walls worked out once
// more at some frequencies.
func TestWalls(t *testing.T) {
	numbers, words := published(t, "tr38901_materials.csv", 10)
	names := map[string]string{"coated glass (IRR)": "irr-glass", "wall low-loss: glass, concrete": "low-loss",
		"wall high-loss: coated glass, concrete": "high-loss", "wall low-loss A: glass, plywood": "low-loss-a"}
	seen := 0
	for i, v := range numbers {
		what := words[i]["what"]
		name := what
		if n, ok := names[what]; ok {
			name = n
		}
		if m, ok := loadWalls().materials[name]; ok {
			seen++
			if m.constant != v["constant_or_share1"] || m.slope != v["slope_or_share2"] {
				t.Errorf("%s: %+v", what, m)
			}
		}
		for _, w := range loadWalls().walls {
			if w.name == name {
				seen++
				if w.share != v["constant_or_share1"] || math.Abs(1-w.share-v["slope_or_share2"]) > 1e-12 || w.sigma != v["sigma_db"] {
					t.Errorf("%s: %+v", what, w)
				}
			}
		}
	}
	if seen != 8 { // cars are in the tables of Report ITU-R M.2412, with the same figures
		t.Errorf("%d rows, want 8", seen)
	}
	for _, ghz := range []float64{0.7, 3.5, 28} {
		want := 5 - 10*math.Log10(0.7*math.Pow(10, -(25.4+0.11*ghz)/10)+0.3*math.Pow(10, -(5+4*ghz)/10))
		if got, sigma, _, ok := WallLoss("high-loss", gigahertz(ghz)); !ok || math.Abs(got-want) > 1e-9 || sigma != 6.5 {
			t.Errorf("coated glass at %v GHz: %v, %v", ghz, got, want)
		}
		want = 5 - 10*math.Log10(0.3*math.Pow(10, -(2+0.2*ghz)/10)+0.7*math.Pow(10, -(1.03+0.17*ghz)/10))
		if got, _, _, ok := WallLoss("low-loss-a", gigahertz(ghz)); !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("plywood at %v GHz: %v, %v", ghz, got, want)
		}
	}
	if _, _, _, ok := WallLoss("paper", bands.GHz); ok {
		t.Error("paper is a wall")
	}
}

// What lies outside of the Recommendations is refused.
func TestITURefuses(t *testing.T) {
	for want, err := range map[string]error{
		"0.08 to 100 GHz":      second(BuildingEntryLoss(Traditional, 50*bands.MHz, 0, 0.5)),
		"traditional or":       second(BuildingEntryLoss(2, bands.GHz, 0, 0.5)),
		"-90 to 90 degrees":    second(BuildingEntryLoss(Traditional, bands.GHz, math.NaN(), 0.5)),
		"above 0 and below 1":  second(BuildingEntryLoss(Traditional, bands.GHz, 0, 1)),
		"0.5 to 67 GHz":        second(ClutterLoss(400*bands.MHz, 1000, 0.5)),
		"at least 250 m":       second(ClutterLoss(bands.GHz, 100, 0.5)),
		"and below 1":          second(ClutterLoss(bands.GHz, 1000, 0)),
		"1 to 5":               second(HeightGainLoss(0, bands.GHz, 1, 2, 3)),
		"0.03 to 3 GHz":        second(HeightGainLoss(Urban, 5*bands.GHz, 1, 2, 3)),
		"above zero":           second(HeightGainLoss(Urban, bands.GHz, 0, 2, 3)),
		"10 to 100 GHz":        second(SkyClutterLoss(bands.GHz, 20, 0.5)),
		"0 to 90 degrees":      second(SkyClutterLoss(20*bands.GHz, 91, 0.5)),
		"0 and below 1 (ITU-R": second(SkyClutterLoss(20*bands.GHz, 20, 1)),
	} {
		var v *bands.ValueError
		if !errors.As(err, &v) || !strings.Contains(err.Error(), want) || v.Source.Spec == "" {
			t.Errorf("%v; want %s", err, want)
		}
	}
}
