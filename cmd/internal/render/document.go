package render

import "strings"

// Block is one part of a document: a [Title], [Part], [Section], [Paragraph],
// [Points], [Facts], [*Table], [*Spectrum], [*Bars], [*Plot], [*Trace], [*Plan], [Verdict], [Findings],
// [Working], [List], [Sources] or [Details].
type Block interface {
	shown(*Options) bool
	write(blockWriter)
}

// blockWriter is what a format that shows documents must be able to write. A
// new kind of block adds a method here, so that no format can forget it.
type blockWriter interface {
	title(Title)
	part(Part)
	section(Section)
	paragraph(Paragraph)
	points(Points)
	facts(Facts)
	table(*Table)
	spectrum(*Spectrum)
	bars(*Bars)
	plot(*Plot)
	trace(*Trace)
	plan(*Plan)
	verdict(Verdict)
	findings(Findings)
	working(Working)
	list(List)
	sources(Sources)
	folds(bool)
	more()
}

// Details makes what a short answer leaves out: text shows it with [Options.Full],
// Markdown always, HTML folded under the headings in it.
type Details func() []Block

func (d Details) shown(*Options) bool { return false } // Shown has put its blocks in its place
func (d Details) write(blockWriter)   {}

// Detail are blocks that a short answer leaves out.
func Detail(blocks ...Block) Details { return func() []Block { return blocks } }

// folds begins and ends what HTML folds.
type folds bool

func (f folds) shown(*Options) bool { return true }
func (f folds) write(w blockWriter) { w.folds(bool(f)) }

// more ends a short answer: there is more to be had.
type more struct{}

func (more) shown(o *Options) bool { return !o.Quiet }
func (more) write(w blockWriter)   { w.more() }

// Title opens a document or one of several equal parts of it: what it is about
// and, in a few words, what sort of thing that is.
type Title struct{ Text, Detail string }

// Part opens a part of a document that has a title: what the part is about and, in
// a few words, what sort of thing that is. The sections that follow belong to it.
type Part struct{ Text, Detail string }

// Section heads the blocks that follow.
type Section string

// Paragraph is a short text without markup.
type Paragraph string

// Points are sentences that stand beside each other, under no heading of their own.
type Points []string

// Facts are names and values, one pair a line.
type Facts []Fact

// Fact is one name and its value. With a unit the value is a number, and lines
// up with the other numbers of its block.
type Fact struct {
	Name, Value, Unit string
	// Remark qualifies the value in a few words.
	Remark string
	// Source says where the fact was read; it is shown with the working.
	Source Source
}

// trail is what follows the value: the remark, and with the working the source.
func (f Fact) trail(explain bool) string {
	s := ""
	if f.Remark != "" {
		s = ", " + f.Remark
	}
	if explain && f.Source != (Source{}) {
		s += " (" + f.Source.short() + ")"
	}
	return s
}

// Tone tells good from bad, for colour. What it says is always in words too.
type Tone uint8

// The tones.
const (
	Neutral Tone = iota
	Good
	Doubtful
	Bad
)

// Verdict is the answer to a yes-or-no question: one word, and the sentence
// that it sums up.
type Verdict struct {
	Tone       Tone
	Word, Text string
}

// Findings are what a check found.
type Findings []Finding

// Finding is one result of a check.
type Finding struct {
	Severity Severity `json:"severity"`
	Rule     string   `json:"rule"`    // stable name in kebab case
	Number   int      `json:"-"`       // of the carrier it is about, counted from 1; 0 for all
	Carrier  string   `json:"carrier"` // what it is about, in words
	Message  string   `json:"message"` // one sentence
	Source   Source   `json:"source"`
}

// Text is the finding as one line of text: the message, and in brackets its rule and source.
func (f *Finding) Text() string { return f.sentence() + " (" + f.basis() + ")" }

// sentence is the message with the carrier it is about.
func (f Finding) sentence() string {
	if f.Carrier == "" || strings.Contains(f.Message, f.Carrier) {
		return f.Message
	}
	return f.Carrier + ": " + f.Message
}

// basis is the rule and where it stands.
func (f Finding) basis() string {
	if f.Source == (Source{}) {
		return f.Rule
	}
	return f.Rule + ", " + f.Source.short()
}

// Severity says how much a finding weighs.
type Severity string

// The severities.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Note    Severity = "note"
)

func (s Severity) tone() Tone {
	switch s {
	case Error:
		return Bad
	case Warning:
		return Doubtful
	}
	return Neutral
}

// Working is how an answer was worked out.
type Working []Step

// Explained makes the working when it is shown, and not before.
type Explained func() Working

func (b Explained) write(w blockWriter) {
	if steps := b(); len(steps) > 0 {
		w.working(steps)
	}
}

// Step is one step of a working: a formula, the formula with the numbers put
// in, and what comes out.
type Step struct {
	Name    string `json:"name"` // what is worked out
	Formula string `json:"formula"`
	Numbers string `json:"numbers"`
	Result  string `json:"result"`
	Source  Source `json:"source"`
}

// List is a list of sentences of one kind.
type List struct {
	Kind  ListKind
	Items []string
}

// ListKind says what the items of a list are.
type ListKind uint8

// The kinds of lists.
const (
	Assumptions ListKind = iota // values that were taken because none was given
	Cautions                    // where the answer can mislead or work can hurt someone
	Notes                       // remarks of the tables
	Assumed                     // the assumptions on a line, for a short answer alone
)

var listTitles = [...]string{Assumptions: "Assumed", Cautions: "Caution", Notes: "Notes", Assumed: "Assumed"}

// Sources are the tables and clauses an answer rests on.
type Sources []Source

func (b Title) write(w blockWriter)     { w.title(b) }
func (b Part) write(w blockWriter)      { w.part(b) }
func (b Section) write(w blockWriter)   { w.section(b) }
func (b Paragraph) write(w blockWriter) { w.paragraph(b) }
func (b Points) write(w blockWriter)    { w.points(b) }
func (b Facts) write(w blockWriter)     { w.facts(b) }
func (t *Table) write(w blockWriter)    { w.table(t) }
func (s *Spectrum) write(w blockWriter) { w.spectrum(s) }
func (b *Bars) write(w blockWriter)     { w.bars(b) }
func (p *Plot) write(w blockWriter)     { w.plot(p) }
func (t *Trace) write(w blockWriter)    { w.trace(t) }
func (p *Plan) write(w blockWriter)     { w.plan(p) }
func (b Verdict) write(w blockWriter)   { w.verdict(b) }
func (b Findings) write(w blockWriter)  { w.findings(b) }
func (b Working) write(w blockWriter)   { w.working(b) }
func (b List) write(w blockWriter)      { w.list(b) }
func (b Sources) write(w blockWriter)   { w.sources(b) }

func (b Title) shown(*Options) bool     { return true }
func (b Part) shown(*Options) bool      { return true }
func (b Section) shown(*Options) bool   { return true }
func (b Paragraph) shown(*Options) bool { return b != "" }
func (b Points) shown(*Options) bool    { return len(b) > 0 }
func (b Facts) shown(*Options) bool     { return len(b) > 0 }
func (t *Table) shown(o *Options) bool  { return len(t.Rows) > 0 && (o.working() || !t.Detail) }
func (s *Spectrum) shown(o *Options) bool {
	return s.count() > 0 && (o.working() || !s.Detail)
}
func (b *Bars) shown(*Options) bool       { return b.count() > 0 }
func (p *Plot) shown(o *Options) bool     { return o.working() && p.count() > 0 }
func (t *Trace) shown(o *Options) bool    { return o.working() && len(t.Pieces) > 0 }
func (p *Plan) shown(o *Options) bool     { return o.working() && len(p.Places) > 0 }
func (b Verdict) shown(*Options) bool     { return true }
func (b Findings) shown(*Options) bool    { return len(b) > 0 }
func (b Working) shown(o *Options) bool   { return o.working() && len(b) > 0 }
func (b Explained) shown(o *Options) bool { return o.working() }
func (b List) shown(o *Options) bool {
	return len(b.Items) > 0 && (!o.Quiet || b.Kind == Cautions) && !(b.Kind == Assumed && o.whole())
}
func (b Sources) shown(o *Options) bool { return len(b) > 0 && !o.Quiet }
