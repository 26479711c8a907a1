package render

import (
	"slices"
	"strings"
	"testing"
)

func TestSheets(t *testing.T) {
	doc := []Block{
		Title{Text: "x"},
		&Table{Title: "Rate by distance, a", Columns: []Column{
			{Header: "distance", Unit: "m", Align: Number}, {Header: "n78:100 down", Unit: "Mbit/s", Align: Number}, {Header: "up", Unit: "Mbit/s", Align: Number},
			{Header: "B3:20 down", Unit: "Mbit/s", Align: Number}, {Header: "up", Unit: "Mbit/s", Align: Number}, {Header: "why"},
		}, Rows: [][]string{{"50", "1.5", "-2", "3", "4", "=1+1"}, {"60", "", "0", "3", "4", "-x"}}},
		&Table{Title: "Rate by distance, a", Columns: []Column{{Key: "own", Header: "x"}}, Rows: [][]string{{"y"}}},
		&Table{Title: "nothing"},
	}
	names, tables := Sheets(doc)
	if !slices.Equal(names, []string{"rate-by-distance-a", "rate-by-distance-a-2"}) {
		t.Errorf("names %q", names)
	}
	out, err := Render(&Answer{Data: tables[0]}, Options{Format: CSV})
	if err != nil {
		t.Fatal(err)
	}
	want := "distance_m,n78_100_down_mbps,up_mbps,b3_20_down_mbps,b3_20_up_mbps,why\r\n50,1.5,-2,3,4,'=1+1\r\n60,,0,3,4,'-x\r\n"
	if string(out) != want {
		t.Errorf("%s\nwant\n%s", strings.ReplaceAll(string(out), "\r", ""), want)
	}
	if tables[1].Columns[0].Key != "own" {
		t.Error("a key of a column is lost")
	}
}
