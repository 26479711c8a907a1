package web

import "spectally/cmd/internal/render"

func bandBlocks(_ *site, _ *query, a *render.Answer) []render.Block { return subordinate(a.Document) }
