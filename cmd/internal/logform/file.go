package logform

import (
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/siteplan"
)

// File is a kind of file that is filled in.
type File struct {
	Noun string // for people
	// Title is the key of the text that names a file, and Untitled names one without.
	Title, Untitled string
	Root            *Section
	// check reads what is written. Its error is of type tomlfile.Problems.
	check func(text []byte) error
	// carriers are those of the networks, each as one line; nil where a file has none.
	carriers func(text []byte) []string
}

// FieldLog, SitePlan and Holdings are the kinds of files.
var (
	FieldLog = &File{
		Noun: "log", Title: "title", Untitled: "Field log", Root: fieldLog,
		check:    func(text []byte) error { _, err := fieldlog.Read("", text); return err },
		carriers: logCarriers,
	}
	SitePlan = &File{
		Noun: "plan", Title: "name", Untitled: "Site", Root: sitePlan,
		check: func(text []byte) error { _, err := siteplan.Read("", text); return err },
	}
	Holdings = &File{
		Noun: "list", Title: "title", Untitled: "Holdings", Root: held,
		check: func(text []byte) error { _, err := holdings.Read("", text); return err },
	}
)

func logCarriers(text []byte) []string {
	log, err := fieldlog.Read("", text)
	if err != nil {
		return nil
	}
	list := make([]string, len(log.Networks))
	for n := range log.Networks {
		list[n] = log.Networks[n].Carriers.String()
	}
	return list
}

// HasCarriers tells whether the section has carriers, which can be filled in as rows.
func (s *Section) HasCarriers() bool {
	for i := range s.Fields {
		if s.Fields[i].Sort == Carriers {
			return true
		}
	}
	return false
}
