package pages

import (
	"crypto/sha256"
	_ "embed" // for the files of the site
	"encoding/hex"
	"sync"

	"spectally/cmd/internal/render"
)

// The files of the site.
const (
	stylePath  = "/style.css"
	scriptPath = "/script.js"
	iconPath   = "/icon.svg"
)

var (
	//go:embed static/site.css
	siteStyle string
	//go:embed static/site.js
	siteScript string
	//go:embed static/icon.svg
	siteIcon string
)

// asset is a file of the site. Its address names what is in it, so that a browser may
// keep it.
type asset struct {
	kind, version string
	body          []byte
}

var assets = sync.OnceValue(func() map[string]*asset {
	list := map[string]*asset{
		stylePath:  {kind: "text/css; charset=utf-8", body: []byte(render.Stylesheet() + siteStyle)},
		scriptPath: {kind: "text/javascript; charset=utf-8", body: []byte(siteScript)},
		iconPath:   {kind: "image/svg+xml", body: []byte(siteIcon)},
	}
	for _, a := range list {
		sum := sha256.Sum256(a.body)
		a.version = hex.EncodeToString(sum[:6])
	}
	// Browsers ask for it where data tells them of no other.
	list["/favicon.ico"] = list[iconPath]
	return list
})

func assetAddress(path string) string { return path + "?v=" + assets()[path].version }

func (a *asset) response(query string) *Response {
	keep := "no-cache"
	if query == "v="+a.version {
		keep = "public, max-age=31536000, immutable"
	}
	return &Response{Status: statusOK, Kind: a.kind, Body: bodyOf(a.body), Header: []string{"Cache-Control", keep}}
}
