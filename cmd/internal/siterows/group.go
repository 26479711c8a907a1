package siterows

import (
	"crypto/sha256"
	"fmt"
	"io"

	"spectally/cmd/internal/batch"
)

// group is the rows of a site that stand together, with the rows around them that tell
// of no site for sure.
type group struct {
	name   string // empty if none of the rows tells of a site
	rows   []row
	begin  int64 // line of the first row that tells of the site
	before int64 // line on which the site had its rows before; 0 if it had none
	// more are the rows beyond those that a site may have, moreAt is the line of the first.
	more, moreAt int64
}

// row is a row of a file.
type row struct {
	line   int64
	site   string // that the row names; it may be wrong if there is a fault
	fields []string
	fault  string // why it cannot be used; empty if it can
}

// sure tells whether the row says to which site it belongs.
func (r *row) sure() bool { return r.site != "" && r.fault == "" }

// groups reads rows and puts those of a site together.
type groups struct {
	rows   *batch.Rows
	layout *layout
	seen   map[nameKey]int64 // the line on which a site begins, by its name
	held   []row             // rows that are not sure, before next
	next   row
	last   string // the site of the last row that is sure
	begun  bool   // next was looked for
	ended  bool   // there is no next
	err    error
}

// nameKey stands for the name of a site. That two names share one is less likely than
// any fault of the machine.
type nameKey [16]byte

func keyOf(name string) nameKey {
	sum := sha256.Sum256([]byte(name))
	return nameKey(sum[:16])
}

func newGroups(r io.Reader) (*groups, error) {
	rows, err := batch.NewRows(r)
	if err != nil {
		return nil, err
	}
	l, err := newLayout(rows.Names())
	if err != nil {
		return nil, err
	}
	return &groups{rows: rows, layout: l, seen: make(map[nameKey]int64)}, nil
}

// step reads up to the next row that is sure, and holds those before it. Of very many
// that are not sure the last takes the place of next.
func (g *groups) step() {
	for g.rows.Next() {
		g.next = row{g.rows.Line(), g.layout.field(columnSite, g.rows.Fields()), g.rows.Fields(), g.rows.Fault()}
		if g.next.site == "" && g.next.fault == "" {
			g.next.site = g.last // an empty field repeats the row before
		}
		if g.next.sure() {
			g.last = g.next.site
		}
		if g.next.sure() || len(g.held) == maxRows {
			return
		}
		g.held = append(g.held, g.next)
	}
	g.ended, g.err = true, g.rows.Err()
}

// read reads the next group; false at the end of the input, of which err tells more.
func (g *groups) read(out *group) bool {
	if !g.begun {
		g.begun = true
		g.step()
	}
	*out = group{rows: append(out.rows[:0], g.held...)}
	g.held = g.held[:0]
	if g.ended {
		return len(out.rows) > 0 && g.err == nil
	}
	if !g.next.sure() {
		out.rows = append(out.rows, g.next)
		g.step()
		return true
	}
	out.name, out.begin = g.next.site, g.next.line
	for !g.ended && g.next.site == out.name && g.next.sure() {
		out.add(g.next)
		g.step()
		// Rows in the midst of a site stay with it, those behind it only if they name it.
		n := len(g.held)
		if g.ended || g.next.site != out.name {
			for n > 0 && g.held[n-1].site != out.name {
				n--
			}
		}
		for _, r := range g.held[:n] {
			out.add(r)
		}
		g.held = append(g.held[:0], g.held[n:]...)
	}
	key := keyOf(out.name)
	if line, ok := g.seen[key]; ok {
		out.before = line
		return true
	}
	if len(g.seen) == maxSites {
		g.ended, g.err = true, fmt.Errorf("%s: a site more than the %d that a file may have", lineOf(out.begin), maxSites)
		return false
	}
	g.seen[key] = out.begin
	return true
}

func (g *group) add(r row) {
	if len(g.rows) < maxRows {
		g.rows = append(g.rows, r)
		return
	}
	if g.more++; g.more == 1 {
		g.moreAt = r.line
	}
}
