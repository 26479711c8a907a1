package batch

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

// The key of a combination tells apart whatever decides anything: every field of a
// carrier but the cell identity and the levels.
func TestKeyHasEveryField(t *testing.T) {
	base := ca.Carrier{Band: bands.ID{RAT: bands.NR, Number: 78}, Downlink: 80 * bands.MHz, Uplink: 80 * bands.MHz, Channel: 1, HasChannel: true, Pattern: "DDDSU"}
	left := map[string]bool{"PCI": true, "HasPCI": true, "RSRP": true, "SINR": true}
	of := func(c ca.Carrier) string { return string(appendKey(nil, ca.Combination{c})) }
	kind := reflect.TypeFor[ca.Carrier]()
	for i := range kind.NumField() {
		name := kind.Field(i).Name
		c := base
		switch f := reflect.ValueOf(&c).Elem().Field(i); f.Kind() {
		case reflect.Bool:
			f.SetBool(!f.Bool())
		case reflect.String:
			f.SetString(f.String() + "U")
		case reflect.Int32, reflect.Int64:
			f.SetInt(f.Int() + 1)
		case reflect.Uint8, reflect.Uint16:
			f.SetUint(f.Uint() + 1)
		case reflect.Struct:
			switch name {
			case "Band":
				c.Band.Number++
			case "RSRP":
				c.RSRP = ca.LevelOf(-8550)
			case "SINR":
				c.SINR = ca.LevelOf(1200)
			default:
				t.Fatalf("%s is new: the key has to have it, or it decides nothing", name)
			}
		default:
			t.Fatalf("%s is of a new kind", name)
		}
		if same := of(c) == of(base); same != left[name] {
			t.Errorf("%s: the same key %v, want %v", name, same, left[name])
		}
	}
	other := base
	other.Band.RAT = bands.LTE
	if of(other) == of(base) {
		t.Error("LTE and NR have the same key")
	}
	if string(appendKey(nil, ca.Combination{base, base})) == of(base) {
		t.Error("two carriers have the key of one")
	}
}

// drawnCarriers writes carriers of bands that there are, mostly with widths that they
// have; some are placed, and some are measured.
func drawnCarriers(r *rand.Rand) string {
	all := bands.All(0)
	var parts []string
	for range 1 + r.IntN(4) {
		b := all[r.IntN(len(all))]
		if r.IntN(2) == 0 { // bands of many configurations
			id, err := bands.ParseID([]string{"B1", "B3", "B7", "B20", "B28", "n1", "n3", "n28", "n41", "n77", "n78", "n258"}[r.IntN(12)])
			if err != nil {
				panic(err)
			}
			if b, err = bands.Lookup(id); err != nil {
				panic(err)
			}
		}
		widths := b.Widths()
		if len(widths) == 0 {
			continue
		}
		text := b.ID.String() + ":" + widths[r.IntN(len(widths))].Width.MHz()
		if r.IntN(8) == 0 {
			text = strconv.Itoa(2+r.IntN(2)) + "x" + text
		} else if span := b.Downlink; r.IntN(4) == 0 && !span.IsZero() {
			if n, _, err := b.ChannelNumber(bands.Downlink, span.Low+(span.High-span.Low)/bands.Frequency(2+r.IntN(3))); err == nil {
				text += "@" + strconv.Itoa(int(n))
			}
		}
		for _, key := range []string{"pci=17", "rsrp=-85.5", "sinr=12", "layers=2", "qam=64", "ul=1", "role=scell"} {
			if r.IntN(12) == 0 {
				text += "," + key
			}
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "n78:80"
	}
	return strings.Join(parts, " + ")
}

// A verdict is that of ca.Assessment, over drawn combinations; and what is kept
// for others never changes it.
func TestVerdicts(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	b := newBook(newStyle(CSV, ',', ""))
	seen := map[ca.Rule]int{}
	for range 600 {
		text := drawnCarriers(r)
		list, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		a := ca.Assess(list)
		if slices.ContainsFunc(a.RuleFindings(), func(f ca.Finding) bool { return f.Severity == ca.Error }) {
			continue // the rules go before the lists
		}
		want := ca.Rule("")
		for _, f := range a.Findings()[len(a.RuleFindings()):] {
			if f.Severity == ca.Error {
				want = f.Rule
				break
			}
		}
		v := b.verdictOn(a)
		if v.rule != want {
			t.Fatalf("%s: rule %q, want %q", text, v.rule, want)
		}
		if fresh := newVerdict(ca.Assess(list)); !reflect.DeepEqual(fresh, v) {
			t.Fatalf("%s: kept %+v, found anew %+v", text, v, fresh)
		}
		seen[want]++
	}
	for _, rule := range []ca.Rule{"", ca.RuleListed, ca.RuleBandwidthSet} {
		if seen[rule] < 5 {
			t.Errorf("%q is the rule of only %d combinations", rule, seen[rule])
		}
	}
}

func TestCache(t *testing.T) {
	c := newCache[int](10)
	for i := range 1000 {
		c.put([]byte(strconv.Itoa(i)), i)
		if v, ok := c.get([]byte("0")); !ok || v != 0 {
			t.Fatalf("what is asked for all the time is forgotten after %d", i)
		}
		if n := len(c.young) + len(c.old); n > 10 {
			t.Fatalf("%d keys are kept", n)
		}
	}
	if v, ok := c.get([]byte("999")); !ok || v != 999 {
		t.Error("the last key is forgotten")
	}
	if _, ok := c.get([]byte("500")); ok {
		t.Error("nothing is ever forgotten")
	}
	long := make([]byte, maxKey+1)
	c.put(long, 1)
	if _, ok := c.get(long); ok {
		t.Error("a key beyond the limit is kept")
	}
}
