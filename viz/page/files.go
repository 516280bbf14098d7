package page

import "embed"

// Files are the page's own files: index.html, page.css, page.js. Beside them it
// needs wasm_exec.js, underdisc.wasm and, if there is one to start with,
// scenario.yaml from whoever serves it.
//
//go:embed index.html page.css page.js
var Files embed.FS

// SizeHeader tells with underdisc.wasm how long it is unpacked, in bytes: the
// share that has arrived can be shown only so.
const SizeHeader = "Underdisc-Unpacked-Size"
