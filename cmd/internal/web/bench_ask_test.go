package web_test

import (
	"spectally/cmd/internal/cli"
	"spectally/cmd/internal/web"
)

func init() { web.BenchWith(cli.Ask) }
