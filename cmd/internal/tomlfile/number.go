package tomlfile

import (
	"errors"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

func (t *Table) decimal(key string, need Need, allowed string) (quantity.Decimal, bool) {
	v, ok := t.askKind(key, need, allowed+" as a number, without quotes", Integer, Float)
	if !ok {
		return quantity.Decimal{}, false
	}
	d, err := quantity.ParseDecimal(strings.TrimPrefix(v.Text, "+"))
	if err != nil {
		t.Refuse(key, v.Text, allowed+" as a plain decimal number")
	}
	return d, err == nil
}

// PositiveIn is [Table.Positive] for a number in the usual unit of a measure, or text with
// its unit: 612, "1.2 Gbit/s".
func (t *Table) PositiveIn(key string, need Need, m *quantity.Measure, high int64, allowed string) (quantity.Decimal, bool) {
	d, ok := t.decimalIn(key, need, m, allowed)
	if ok && (d.Sign() <= 0 || d.Compare(quantity.NewDecimal(high, 0)) > 0) {
		t.Refuse(key, d.String(), allowed+" above zero, up to "+strconv.FormatInt(high, 10))
		return quantity.Decimal{}, false
	}
	return d, ok
}

// NumberIn is [Table.Number] for a number in the usual unit of a measure, or text with its
// unit: -87.5, "-87.5 dBm".
func (t *Table) NumberIn(key string, need Need, m *quantity.Measure, low, high int64, allowed string) (quantity.Decimal, bool) {
	d, ok := t.decimalIn(key, need, m, allowed)
	if ok && (d.Compare(quantity.NewDecimal(low, 0)) < 0 || d.Compare(quantity.NewDecimal(high, 0)) > 0) {
		t.Refuse(key, d.String(), allowed+" from "+strconv.FormatInt(low, 10)+" to "+strconv.FormatInt(high, 10))
		return quantity.Decimal{}, false
	}
	return d, ok
}

// decimalIn reads a number, or text with its unit.
func (t *Table) decimalIn(key string, need Need, m *quantity.Measure, allowed string) (quantity.Decimal, bool) {
	asked := allowed + " as a number, without quotes, or with its unit in quotes"
	v, ok := t.askKind(key, need, asked, Integer, Float, String)
	switch {
	case !ok:
		return quantity.Decimal{}, false
	case v.Kind != String:
		return t.decimal(key, need, allowed)
	}
	d, err := m.ParseUnit(v.Text)
	if err != nil {
		fault := &bands.ValueError{Param: key, Got: Shorten(v.Text), Allowed: asked}
		if known, ok := errors.AsType[*bands.ValueError](err); ok && known.Nearest != "" {
			fault.Nearest = `"` + known.Nearest + `"`
		}
		t.Report(key, fault)
	}
	return d, err == nil
}

// Number reads a number with the digits it is written with, between two whole
// limits. allowed says what is asked for, with its unit: "a time in milliseconds".
func (t *Table) Number(key string, need Need, low, high int64, allowed string) (quantity.Decimal, bool) {
	d, ok := t.decimal(key, need, allowed)
	if !ok {
		return quantity.Decimal{}, false
	}
	if d.Compare(quantity.NewDecimal(low, 0)) < 0 || d.Compare(quantity.NewDecimal(high, 0)) > 0 {
		t.Refuse(key, d.String(), allowed+" from "+strconv.FormatInt(low, 10)+" to "+strconv.FormatInt(high, 10))
		return quantity.Decimal{}, false
	}
	return d, true
}

// Positive reads a number above zero and up to a whole limit.
func (t *Table) Positive(key string, need Need, high int64, allowed string) (quantity.Decimal, bool) {
	d, ok := t.decimal(key, need, allowed)
	if !ok {
		return quantity.Decimal{}, false
	}
	if d.Sign() <= 0 || d.Compare(quantity.NewDecimal(high, 0)) > 0 {
		t.Refuse(key, d.String(), allowed+" above zero, up to "+strconv.FormatInt(high, 10))
		return quantity.Decimal{}, false
	}
	return d, true
}

// Whole reads a whole number between two limits.
func (t *Table) Whole(key string, need Need, low, high int64, allowed string) (int, bool) {
	d, ok := t.Number(key, need, low, high, allowed)
	if !ok {
		return 0, false
	}
	r := d.Rat()
	if !r.IsInt() {
		t.Refuse(key, d.String(), allowed+", a whole number from "+strconv.FormatInt(low, 10)+" to "+strconv.FormatInt(high, 10))
		return 0, false
	}
	return int(r.Num().Int64()), true
}
