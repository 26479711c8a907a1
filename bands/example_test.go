package bands_test

import (
	"fmt"

	"spectally/bands"
)

func ExampleLookup() {
	id, err := bands.ParseID("n78")
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := bands.Lookup(id)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(b.ID, b.Range, b.Duplex, b.Downlink)
	fmt.Println(b.Source)

	_, err = bands.Lookup(bands.ID{RAT: bands.NR, Number: 9})
	fmt.Println(err)
	// Output:
	// n78 FR1 TDD 3300-3800 MHz
	// TS 38.101-1 V19.5.0 Table 5.2-1
	// NR band "n9": must be a band of the operating-band tables; closest is n8, or LTE band 9 written B9 (TS 38.101-1 Table 5.2-1)
}

func ExampleAt() {
	for _, m := range bands.At(2680 * bands.MHz) {
		fmt.Println(m.Band.ID, m.Band.Duplex, m.Downlink, m.Uplink)
	}
	// Output:
	// B7 FDD true false
	// B41 TDD true true
	// n7 FDD true false
	// n41 TDD true true
	// n90 TDD true true
}

func ExampleByChannel() {
	for _, m := range bands.ByChannel(bands.NR, 640000) {
		fmt.Println(m.Band.ID, m.Downlink, m.Uplink)
	}
	// Output:
	// n48 true true
	// n77 true true
	// n78 true true
}

func ExampleByName() {
	found, err := bands.ByName("digital dividend")
	for _, b := range found {
		fmt.Println(b.ID, b.Downlink)
	}
	fmt.Println(err)

	_, err = bands.ByName("digital devidend")
	fmt.Println(err)
	// Output:
	// B20 791-821 MHz
	// B28 758-803 MHz
	// n20 791-821 MHz
	// n28 758-803 MHz
	// <nil>
	// band name "digital devidend": must be a band (n78, B3), a frequency with its unit, or a name of the trade; closest is digital dividend
}

func ExampleARFCN_Frequency() {
	fmt.Println(bands.ARFCN(636666).Frequency())
	fmt.Println(bands.ARFCN(3279166).Frequency())
	// Output:
	// 3.54999 GHz <nil>
	// 0 Hz NR-ARFCN "3279166": must be 0 to 3279165 (TS 38.104 Table 5.4.2.1-1)
}

func ExampleEARFCN_Find() {
	m, f, err := bands.EARFCN(1300).Find()
	fmt.Println(m.Band.ID, m.Downlink, m.Uplink, f, err)
	// Output:
	// B3 true false 1.815 GHz <nil>
}

func ExampleGSCN_Frequency() {
	f, err := bands.GSCN(7880).Frequency()
	fmt.Println(f, err)
	fmt.Println(bands.GSCNAt(f))
	// Output:
	// 3.54864 GHz <nil>
	// 7880 true
}

func ExampleParseFrequency() {
	f, err := bands.ParseFrequency("3540.96 MHz")
	fmt.Println(f, f.MHz(), int64(f), err)

	_, err = bands.ParseFrequency("3540.96")
	fmt.Println(err)
	// Output:
	// 3.54096 GHz 3540.96 3540960000 <nil>
	// frequency "3540.96": must be a number and a unit, exact to 1 Hz, such as 3540.96 MHz, 3.5 GHz or 15 kHz
}

func ExampleBand_Paired() {
	b, err := bands.Lookup(bands.ID{RAT: bands.LTE, Number: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(b.Paired(bands.Downlink, 806*bands.MHz))
	// Output:
	// 847 MHz true
}

func ExampleBand_CheckWidth() {
	b, err := bands.Lookup(bands.ID{RAT: bands.NR, Number: 78})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(b.CheckWidth(bands.Downlink, 100*bands.MHz, 30*bands.KHz))
	fmt.Println(b.CheckWidth(bands.Downlink, 100*bands.MHz, 15*bands.KHz))
	// Output:
	// <nil>
	// n78 downlink width at 15 kHz "100 MHz": must be 10, 15, 20, 25, 30, 40 or 50 MHz; closest is 50 MHz, or 100 MHz at 30 or 60 kHz (TS 38.101-1 Table 5.3.5-1)
}

func ExampleBand_OnRaster() {
	b, err := bands.Lookup(bands.ID{RAT: bands.NR, Number: 96})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(b.OnRaster(bands.Downlink, 796000, 20*bands.MHz))
	fmt.Println(b.NearestOnRaster(bands.Downlink, 796000, 20*bands.MHz))
	// Output:
	// false
	// [795668 797000]
}
