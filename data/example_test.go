package data_test

import (
	"fmt"
	"strings"

	"spectally/data"
)

func ExampleLoad() {
	tables, err := data.Load("nr_bands")
	if err != nil {
		fmt.Println(err)
		return
	}
	t := data.Find(tables, "fr1")
	fmt.Println(t.Source, len(t.Rows) > 50)
	band, uplink := t.Column("band"), t.Column("uplink")
	for _, row := range t.Rows {
		if row[band] == "n78" {
			fmt.Println(row[band], row[uplink])
		}
	}
	_, err = data.Load("nr_band")
	fmt.Println(err)
	// Output:
	// TS 38.101-1 V19.5.0 Table 5.2-1 true
	// n78 3300-3800
	// data: no file nr_band.toml
}

// A program keeps what Lazy returns and calls it where it needs the tables.
func ExampleLazy() {
	numerology := data.Lazy("nr_numerology")
	for _, t := range numerology() {
		fmt.Println(t.Source.Short(), t.Columns)
	}
	// Output: TS 38.211 Table 4.3.2-1 [mu scs_khz cp symbols_per_slot slots_per_frame slots_per_subframe]
}

func ExampleLoadList() {
	lists, err := data.LoadList("ca_nr_intra")
	if err != nil {
		fmt.Println(err)
		return
	}
	for head := range lists[0].Entries() {
		fmt.Println(lists[0].Source, strings.Fields(head)[0])
		break
	}
	// Output: TS 38.101-1 V19.5.0 Table 5.5A.1-1 CA_n1B
}
