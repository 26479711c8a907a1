// Package siterows plans many sites out of CSV in which each row is a carrier of a
// sector. The columns are in the words of a site plan, see package siteplan and
// [Columns]; the rows of a site stand together.
//
// Rows are read once, in bounded memory but for sixteen bytes and a line number for the
// name of each site, which is how a site whose rows come back later is found. Sites are
// worked out by several workers at once and handed on in their order.
package siterows

import (
	"context"
	"io"
	"runtime"

	"spectally/cmd/internal/batch"
	"spectally/throughput/site"
)

// Site is a site that was worked out.
type Site struct {
	Line     int64 // on which its rows begin, counted from 1
	Rows     int
	Plan     *site.Site // as it was read
	Capacity *site.SiteCapacity
}

// Fault is a row, or the rows of a site, that cannot be used, and why.
type Fault struct {
	Line int64 // counted from 1
	Err  error
}

// String says in a line where the fault is and what it is.
func (f *Fault) String() string { return lineOf(f.Line) + ": " + f.Err.Error() }

// Counts are what a run has done so far.
type Counts struct {
	Rows  int64 // read, all of them
	Sites int64 // worked out
	// Refused are the rows that cannot be used, Left those that are left out since
	// other rows of their site cannot be used; Without are the sites that are not
	// worked out for it.
	Refused, Left, Without int64
}

func (c *Counts) add(d *Counts) {
	c.Rows += d.Rows
	c.Sites += d.Sites
	c.Refused += d.Refused
	c.Left += d.Left
	c.Without += d.Without
}

// Settings say how rows are read and what becomes of them.
type Settings struct {
	// Workers is how many sites are worked out at once; 0 is one for each core.
	Workers int
	// Site takes each site that was worked out and Fault each fault, both in the order of the
	// rows and from one goroutine. An error of Site ends the run.
	Site  func(*Site) error
	Fault func(*Fault)
}

// Limits of a file.
const (
	maxSites    = 1_000_000
	maxSectors  = 100 // of a site, as siteplan has it
	maxCarriers = 32  // of a sector, as siteplan has it
	maxRows     = maxSectors * maxCarriers
)

// File is a file whose header was read.
type File struct{ groups *groups }

// Open reads the header. It is an error, a *bands.ValueError if it is about a column, if
// the header cannot be used or is not there.
func Open(r io.Reader) (*File, error) {
	g, err := newGroups(r)
	if err != nil {
		return nil, err
	}
	return &File{g}, nil
}

// Run works out the sites of the file, once. It returns what it has done even if it
// fails: if the input cannot be read, there are more than a million sites, the function
// for sites fails, or ctx is done, whose cause it then returns. Rows that cannot be used
// are no such failure.
func (f *File) Run(ctx context.Context, s Settings, p *batch.Progress) (Counts, error) {
	workers := s.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	return run(ctx, f.groups, min(workers, batch.MaxWorkers), &s, p)
}
