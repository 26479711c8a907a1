package pages

import (
	"bytes"
	"crypto/sha256"
	"embed"
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
	//go:embed static/*.js
	scriptFiles embed.FS
	//go:embed static/icon.svg
	siteIcon string
)

// scripts are the parts of the script, in their order. They share one scope of their own.
var scripts = [...]string{"page", "carriers", "shelf", "logbook", "start"}

func siteScript() []byte {
	var b bytes.Buffer
	b.WriteString("\"use strict\";\n(() => {\n")
	for _, name := range scripts {
		part, err := scriptFiles.ReadFile("static/" + name + ".js")
		if err != nil {
			panic(err) // the files are built in
		}
		b.Write(part)
	}
	b.WriteString("})();\n")
	return b.Bytes()
}

// asset is a file of the site. Its address names what is in it, so that a browser may
// keep it.
type asset struct {
	kind, version string
	body          []byte
}

var assets = sync.OnceValue(func() map[string]*asset {
	list := map[string]*asset{
		stylePath:  {kind: "text/css; charset=utf-8", body: []byte(render.Stylesheet() + siteStyle)},
		scriptPath: {kind: "text/javascript; charset=utf-8", body: siteScript()},
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
