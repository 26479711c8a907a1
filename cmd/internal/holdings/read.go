// Package holdings reads the files in which users write what networks hold of the
// spectrum.
package holdings

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca/deploy"
	"spectally/cmd/internal/tomlfile"
)

// Limits of what a file may hold.
const (
	maxNetworks = 20
	maxBlocks   = 60 // of a network
)

var (
	//go:embed demo.toml
	demo string
	//go:embed template.toml
	template string
)

// Demo is a file of an invented country.
func Demo() string { return demo }

// Template is a file to fill in.
func Template() string { return template }

// Holdings are what networks hold.
type Holdings struct {
	Title    string
	Networks []Network
}

// Network is a network and its blocks.
type Network struct {
	Name   string
	Blocks []Block
}

// Block is a block with what its holder notes of it.
type Block struct {
	deploy.Block
	Note   string
	From   string // when it can be used, as written; empty for now
	Shared bool   // others may hold the same spectrum
	Indoor bool
}

// Remark joins what is noted of the block: "indoor only, shared, from 2027-06".
func (b *Block) Remark() string {
	var list []string
	if b.Indoor {
		list = append(list, "indoor only")
	}
	if b.Shared {
		list = append(list, "shared")
	}
	if b.From != "" {
		list = append(list, "from "+b.From)
	}
	if b.Note != "" {
		list = append(list, b.Note)
	}
	return strings.Join(list, ", ")
}

// ParseBlocks reads blocks with commas between them, as a quick question has them.
func ParseBlocks(text string) (*Holdings, error) {
	n := Network{Name: "network"}
	for s := range strings.SplitSeq(text, ",") {
		b, err := readBlock(s)
		if err != nil {
			return nil, err
		}
		for i := range n.Blocks {
			if n.Blocks[i].Overlaps(b) {
				return nil, overlapError(b, n.Blocks[i].Block)
			}
		}
		n.Blocks = append(n.Blocks, Block{Block: b})
	}
	if len(n.Blocks) > maxBlocks {
		return nil, &bands.ValueError{Param: "blocks", Got: strconv.Itoa(len(n.Blocks)), Allowed: "at most " + strconv.Itoa(maxBlocks)}
	}
	return &Holdings{Networks: []Network{n}}, nil
}

func overlapError(b, other deploy.Block) error {
	return &bands.ValueError{Param: "block", Got: b.String(), Allowed: "spectrum that no other block has: it overlaps " + other.String()}
}

// readBlock reads a block that lies in a band at least in part.
func readBlock(s string) (deploy.Block, error) {
	b, err := deploy.ParseBlock(s)
	if err != nil {
		return b, err
	}
	return b, checkPlace(b)
}

// checkPlace refuses blocks that no band has anything of.
func checkPlace(b deploy.Block) error {
	nearest, least := "", bands.Frequency(0)
	for _, band := range bands.All(0) {
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			s := band.Span(d)
			if s.IsZero() || band.Range.IsNTN() {
				continue
			}
			if s.Overlaps(b.Downlink) && (b.Uplink.IsZero() || d == bands.Downlink) {
				return nil
			}
			apart := max(s.Low-b.Downlink.High, b.Downlink.Low-s.High)
			if nearest == "" || apart < least {
				nearest, least = band.ID.String()+" at "+s.String(), apart
			}
		}
	}
	if turned := (deploy.Block{Downlink: b.Uplink, Uplink: b.Downlink}); paired(turned) {
		return &bands.ValueError{Param: "block", Got: b.String(), Allowed: "the downlink before the uplink", Nearest: turned.String()}
	}
	return &bands.ValueError{Param: "block", Got: b.String(), Allowed: "spectrum of a band of LTE or NR", Nearest: nearest}
}

// Read reads a file. Everything that is wrong with it is reported at once: the error is
// of type tomlfile.Problems, in order of line. The name is for messages alone.
func Read(name string, data []byte) (*Holdings, error) {
	f := tomlfile.Parse(name, data)
	t := f.Root()
	h := &Holdings{}
	h.Title, _ = t.Text("title", tomlfile.Optional, "a line of text")
	tables := t.Subs("network", "network", maxNetworks)
	if len(tables) == 0 && !t.Has("network") {
		t.Missing("network", "one table at least under the header [[network]]")
	}
	for _, n := range tables {
		h.readNetwork(n)
	}
	t.Finish()
	if p := f.Problems(); len(p) > 0 {
		return nil, p
	}
	return h, nil
}

func (h *Holdings) readNetwork(t *tomlfile.Table) {
	n := Network{}
	n.Name, _ = t.Text("name", tomlfile.Required, "the name of the network")
	for i := range h.Networks {
		if n.Name != "" && strings.EqualFold(h.Networks[i].Name, n.Name) {
			t.Refuse("name", n.Name, "a name that no other network has")
		}
	}
	add := func(at *tomlfile.Table, key string, b Block) {
		for i := range n.Blocks {
			if n.Blocks[i].Overlaps(b.Block) {
				at.Report(key, overlapError(b.Block, n.Blocks[i].Block))
				return
			}
		}
		h.checkOthers(at, key, &b)
		n.Blocks = append(n.Blocks, b)
	}
	if text, ok := t.Text("blocks", tomlfile.Optional, "blocks with commas between them: 1805-1825/1710-1730, 3410-3500"); ok {
		for s := range strings.SplitSeq(text, ",") {
			b, err := readBlock(s)
			if err != nil {
				t.Report("blocks", err)
				continue
			}
			add(t, "blocks", Block{Block: b})
		}
	}
	for _, s := range t.Subs("block", "network.block", maxBlocks) {
		if b, ok := readBlockTable(s); ok {
			add(s, "range", b)
		}
	}
	if len(n.Blocks) == 0 && t.Faultless() && !t.Has("block") {
		t.Missing("blocks", "blocks with commas between them, or tables under the header [[network.block]]")
	}
	if len(n.Blocks) > maxBlocks {
		t.Refuse("blocks", strconv.Itoa(len(n.Blocks)), "at most "+strconv.Itoa(maxBlocks))
	}
	t.Finish()
	h.Networks = append(h.Networks, n)
}

// checkOthers refuses spectrum that another network holds, unless both share it.
func (h *Holdings) checkOthers(t *tomlfile.Table, key string, b *Block) {
	for i := range h.Networks {
		for j := range h.Networks[i].Blocks {
			other := &h.Networks[i].Blocks[j]
			if other.Overlaps(b.Block) && !(other.Shared && b.Shared) {
				t.Report(key, &bands.ValueError{Param: "block", Got: b.String(),
					Allowed: "spectrum that no other network holds, or shared = true in both: " + h.Networks[i].Name + " holds " + other.String()})
				return
			}
		}
	}
}

func readBlockTable(t *tomlfile.Table) (b Block, ok bool) {
	const allowed = "a range in MHz, or downlink/uplink: 1805-1825/1710-1730"
	text, ok := t.Text("range", tomlfile.Required, allowed)
	if ok {
		var err error
		if b.Block, err = readBlock(text); err != nil {
			t.Report("range", err)
			ok = false
		}
	}
	if list, given := t.List("bands", "bands that the block is for: [\"B3\", \"n3\"]"); given {
		for _, s := range list {
			id, err := bands.ParseID(s)
			if err == nil {
				_, err = bands.Lookup(id)
			}
			if err != nil {
				t.Report("bands", err)
				continue
			}
			b.Bands = append(b.Bands, id)
		}
	}
	b.Note, _ = t.Text("note", tomlfile.Optional, "a line of text")
	b.From, _ = t.Moment("from", tomlfile.Optional, "a date, or text such as \"2027\"")
	b.Shared, _ = t.Bool("shared")
	b.Indoor, _ = t.Bool("indoor")
	t.Finish()
	return b, ok
}

// paired tells whether a band has something of both directions of a block.
func paired(b deploy.Block) bool {
	return slices.ContainsFunc(bands.All(0), func(band *bands.Band) bool {
		return !b.Downlink.IsZero() && band.Downlink.Overlaps(b.Downlink) && band.Uplink.Overlaps(b.Uplink)
	})
}
