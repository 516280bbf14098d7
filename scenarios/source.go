package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits on one file. They keep a hostile file from taking the program down:
// the YAML parser recurses for each level, and its time grows with the square
// of the number of keys and of blank lines.
const (
	maxBytes  = 1 << 20
	maxLines  = 10000
	maxTokens = 20000 // a tenth of a second at most; a plant of many valves has a tenth of that
	maxFlow   = 32    // nested [ and {
	maxColumn = 200   // where a nested block may start, which bounds its depth
)

type nodeKind int

const (
	scalar nodeKind = iota
	mapping
	list
	null  // written as null or ~
	empty // nothing after the key
)

// node is a value of a file with the place it was written at.
type node struct {
	kind  nodeKind
	at    place // where the value starts
	keyAt place // where its key stands, if it has one
	text  string
	keys  []string // in the order of the file
	entry map[string]*node
	items []*node
}

// describe names a value in an error.
func (n *node) describe() string {
	switch n.kind {
	case mapping:
		return "a group of keys"
	case list:
		return "a list"
	case null:
		return "null"
	case empty:
		return "nothing"
	}
	return quote(n.text)
}

// parseSource reads the YAML of one file into nodes. Of YAML it takes
// mappings, lists and scalars; anything that makes a value depend on another
// place of the file is refused.
func parseSource(file string, data []byte) (*node, error) {
	if len(data) > maxBytes {
		return nil, &Error{File: file, Found: fmt.Sprintf("more than %d bytes", maxBytes), Want: "a smaller file"}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if err := checkText(file, data); err != nil {
		return nil, err
	}
	tokens := lexer.Tokenize(string(data))
	if err := checkTokens(file, tokens); err != nil {
		return nil, err
	}
	doc, err := parseTokens(file, tokens)
	if err != nil {
		return nil, err
	}
	for _, d := range doc.Docs {
		if d.Body == nil {
			continue
		}
		return build(file, d.Body)
	}
	return nil, place{file, 1, 1}.wrong("", "an empty file", "a scenario")
}

// checkText refuses bytes that are not text, and too many lines of it.
func checkText(file string, data []byte) error {
	line, col := 1, 1
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		i += n
		switch {
		case r == utf8.RuneError && n <= 1:
			return place{file, line, col}.wrong("", "a byte that is not UTF-8", "plain text in UTF-8")
		case r < ' ' && r != '\n' && r != '\r' && r != '\t', r == 0x7f:
			return place{file, line, col}.wrong("", fmt.Sprintf("the control character %U", r), "plain text")
		case r == '\n', r == '\r' && !bytes.HasPrefix(data[i:], []byte("\n")):
			line, col = line+1, 1
			if line > maxLines {
				return place{file, line, col}.wrong("", fmt.Sprintf("more than %d lines", maxLines), "a smaller file")
			}
		default:
			col++
		}
	}
	return nil
}

// checkTokens bounds size and depth, and refuses a second document.
func checkTokens(file string, tokens token.Tokens) error {
	flow := 0
	for i, t := range tokens {
		at := tokenPlace(file, t)
		if i >= maxTokens {
			return at.wrong("", fmt.Sprintf("more than %d words and signs", maxTokens), "a smaller file")
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			flow++
		case token.MappingEndType, token.SequenceEndType:
			flow--
		case token.DocumentHeaderType:
			if i > 0 {
				return at.wrong("", "the start of a second document", "one document a file")
			}
		case token.DocumentEndType:
			if i < len(tokens)-1 {
				return at.wrong("", "the end of a document before the end of the file", "one document a file")
			}
		case token.DirectiveType:
			return at.wrong("", "a YAML directive", "the scenario without it")
		}
		start := t
		if t.Type == token.MappingValueType && t.Prev != nil {
			start = t.Prev
		}
		nests := t.Type == token.SequenceEntryType || t.Type == token.MappingKeyType || t.Type == token.MappingValueType
		if flow > maxFlow || flow <= 0 && nests && start.Position.Column > maxColumn {
			return at.wrong("", "too many levels inside each other", "a flatter file")
		}
	}
	return nil
}

// parseTokens runs the YAML parser. It is made for trusted files: a panic in
// it is an error of the file, not of this program.
func parseTokens(file string, tokens token.Tokens) (doc *ast.File, err error) {
	const want = "lines of \"key: value\", each level indented by spaces"
	defer func() {
		if r := recover(); r != nil {
			doc, err = nil, place{file, 1, 1}.wrong("", "text that is not YAML", want)
		}
	}()
	// Repeated keys are let through here and reported by build, which knows
	// where the first one stands.
	doc, err = parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err == nil {
		return doc, nil
	}
	at, message := place{file, 1, 1}, err.Error()
	var detail yaml.Error
	if errors.As(err, &detail) {
		message = detail.GetMessage()
		if t := detail.GetToken(); t != nil {
			at = tokenPlace(file, t)
		}
	}
	return nil, at.wrong("", "text that is not YAML ("+message+")", want)
}

func tokenPlace(file string, t *token.Token) place {
	if t == nil || t.Position == nil {
		return place{file, 1, 1}
	}
	return place{file, max(t.Position.Line, 1), max(t.Position.Column, 1)}
}

// build turns the parser's tree into nodes.
func build(file string, n ast.Node) (*node, error) {
	at := tokenPlace(file, n.GetToken())
	refuse := func(what string) (*node, error) {
		return nil, at.wrong("", what, "the value itself, written out")
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		out, err := buildMapping(file, at, n.Values)
		if err == nil && !n.IsFlowStyle && len(n.Values) > 0 {
			// The parser places a block mapping at its first colon.
			out.at = out.entry[out.keys[0]].keyAt
		}
		return out, err
	case *ast.MappingValueNode:
		return buildMapping(file, tokenPlace(file, n.Key.GetToken()), []*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		out := &node{kind: list, at: at}
		for _, v := range n.Values {
			item, err := build(file, v)
			if err != nil {
				return nil, err
			}
			out.items = append(out.items, item)
		}
		return out, nil
	case *ast.StringNode:
		return &node{at: at, text: n.Value}, nil
	case *ast.LiteralNode:
		return &node{at: at, text: n.Value.Value}, nil
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return &node{at: at, text: n.GetToken().Value}, nil
	case *ast.NullNode:
		if n.GetToken().Type == token.ImplicitNullType {
			return &node{kind: empty, at: at}, nil
		}
		return &node{kind: null, at: at}, nil
	case *ast.AnchorNode:
		return refuse("a YAML anchor (&)")
	case *ast.AliasNode:
		return refuse("a YAML alias (*)")
	case *ast.TagNode:
		return refuse("a YAML tag (!)")
	}
	return refuse("something that is not a value")
}

func buildMapping(file string, at place, values []*ast.MappingValueNode) (*node, error) {
	out := &node{kind: mapping, at: at, entry: map[string]*node{}}
	for _, v := range values {
		keyAt := tokenPlace(file, v.Key.GetToken())
		key, err := buildKey(keyAt, v.Key)
		if err != nil {
			return nil, err
		}
		if first, ok := out.entry[key]; ok {
			return nil, keyAt.wrong("", fmt.Sprintf("%s a second time (first on line %d)", quote(key), first.keyAt.line), "each key once")
		}
		child, err := build(file, v.Value)
		if err != nil {
			return nil, err
		}
		child.keyAt = keyAt
		if child.kind == empty {
			child.at = keyAt
		}
		out.keys = append(out.keys, key)
		out.entry[key] = child
	}
	return out, nil
}

func buildKey(at place, n ast.MapKeyNode) (string, error) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, nil
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode, *ast.NullNode:
		return n.GetToken().Value, nil
	case *ast.MergeKeyNode:
		return "", at.wrong("", "a YAML merge key (<<)", "the keys themselves, or an include at the top of the file")
	}
	return "", at.wrong("", "a key that is not a word", "a plain word before the colon")
}
