package source

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"tiploop/frame/machine"
)

// Bounds on a model file. The largest machine anybody has described takes a few hundred lines; the parser takes a
// time that grows with the square of the number of lines, and calls itself once per level and per key.
const (
	MostBytes   = 1 << 20
	mostLines   = 10_000
	mostColumns = 4096
	mostLevels  = 20
	MostName    = 60 // runes of a key
)

// TooLarge is the fault of a file of more than MostBytes.
func TooLarge(name, size string) machine.Fault {
	return machine.Fault{File: name, What: fmt.Sprintf("the file is too large for a model: %s, at most %d are read", size,
		MostBytes)}
}

// Parse turns the text of a model file into a tree of nodes; nil when there is none, and faults say why.
func Parse(name string, data []byte) (*Node, machine.Faults) {
	s := source{name: name}
	text, ok := s.text(data)
	if !ok {
		return nil, s.faults.Sorted()
	}
	root := s.parse(text)
	return root, s.faults.Sorted()
}

// source collects what is wrong with a file before anything is known of its meaning.
type source struct {
	name   string
	faults machine.Faults
}

func (s *source) fault(at machine.FilePos, what, hint string) {
	s.faults = append(s.faults, machine.Fault{File: s.name, Pos: at, What: what, Hint: hint})
}

// text checks that the file is text of a bearable size, and gives it with plain line ends.
func (s *source) text(data []byte) (string, bool) {
	switch {
	case len(data) > MostBytes:
		s.faults = append(s.faults, TooLarge(s.name, "more than 1 MiB"))
		return "", false
	case bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data):
		s.fault(machine.FilePos{}, "this is not a text file", "a model file is YAML in UTF-8")
		return "", false
	}
	text := strings.TrimPrefix(string(data), "\ufeff") // a byte order mark is allowed, and means nothing in UTF-8
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	at := machine.FilePos{Line: 1, Col: 0}
	for _, r := range text {
		at.Col++
		switch {
		case r == '\n':
			at = machine.FilePos{Line: at.Line + 1, Col: 0}
		case r != '\t' && unicode.IsControl(r):
			s.fault(at, fmt.Sprintf("control character %U", r), "take it out")
			return "", false
		case at.Line > mostLines:
			s.fault(at, fmt.Sprintf("the file is too long for a model: more than %d lines", mostLines), "")
			return "", false
		case at.Col > mostColumns:
			s.fault(at, fmt.Sprintf("the line is too long: more than %d characters", mostColumns), "break it")
			return "", false
		}
	}
	return text, true
}

// parse gives the tree of the one document in the text, nil when there is none that can be read.
func (s *source) parse(text string) (root *Node) {
	defer func() {
		if recover() != nil { // the YAML package gives up on some broken files by panicking
			s.fault(machine.FilePos{}, "this cannot be read as YAML", "")
			root = nil
		}
	}()
	tokens := lexer.Tokenize(text)
	if !s.checkTokens(tokens) {
		return nil
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey()) // convert reports them all, this only the first
	if err != nil {
		s.syntax(err)
		return nil
	}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if root != nil {
			s.fault(posOf(doc.Body.GetToken()), "a second document begins here", "a model is one document")
			return nil
		}
		if root = s.convert(doc.Body, 1); root == nil {
			return nil
		}
	}
	if root == nil {
		s.fault(machine.FilePos{}, "the file is empty", "")
	}
	return root
}

// foreign are the parts of YAML that are not part of a model: they stand for something written elsewhere, or for what a
// model has other words for. One of each kind is reported: a file that holds one often holds many.
type foreign string

// The kinds, as they are told.
const (
	alias          foreign = "anchors and aliases (%s) are not part of a model"
	tag            foreign = "tags (%s) are not part of a model"
	directive      foreign = "directives are not part of a model"
	secondDocument foreign = "a second document begins here"
	questionMark   foreign = "a key with a question mark is not part of a model"
)

// hint says what to write instead.
func (f foreign) hint() string {
	return map[foreign]string{
		alias:          "give the number a name under values, and use the name",
		tag:            "write not instead of !, or put the text in quotes",
		directive:      "take the line out, or put the text in quotes",
		secondDocument: "a model is one document: take out the line ---",
		questionMark:   "write key: value",
	}[f]
}

// foreignOf gives the kind of foreign thing that a token is; "" when it is none. begun says how many of a document's
// tokens came before it.
func foreignOf(t *token.Token, begun int) foreign {
	switch t.Type {
	case token.AnchorType, token.AliasType, token.MergeKeyType:
		return alias
	case token.TagType:
		return tag
	case token.DirectiveType:
		return directive
	case token.DocumentHeaderType:
		if begun > 0 {
			return secondDocument
		}
	case token.MappingKeyType:
		return questionMark
	}
	return ""
}

// checkTokens refuses what the parser must not see: nesting that would exhaust it, and what is foreign to a model.
func (s *source) checkTokens(tokens token.Tokens) bool {
	level, line, entries, begun := 0, 0, 0, 0
	told := map[foreign]bool{}
	for _, t := range tokens {
		at := posOf(t)
		if at.Line != line {
			line, entries = at.Line, 0
		}
		if f := foreignOf(t, begun); f != "" && !told[f] {
			told[f] = true
			s.fault(at, strings.Replace(string(f), "%s", machine.Quote(t.Value), 1), f.hint())
		}
		switch t.Type {
		case token.SequenceEntryType, token.MappingValueType:
			if level == 0 {
				entries++ // one inside the other, all on one line
			}
		case token.SequenceStartType, token.MappingStartType:
			level++
		case token.SequenceEndType, token.MappingEndType:
			level--
		}
		if t.Type != token.CommentType {
			begun++
		}
		if level > mostLevels || entries > mostLevels {
			s.fault(at, fmt.Sprintf("lists and mappings are nested more than %d deep", mostLevels), "")
			return false
		}
	}
	return len(told) == 0
}

// convert turns a node of the YAML package into one of ours; nil when it is too deep to be read.
func (s *source) convert(n ast.Node, level int) *Node {
	t := n.GetToken()
	out := &Node{Pos: posOf(t)}
	if level > mostLevels {
		s.fault(out.Pos, fmt.Sprintf("lists and mappings are nested more than %d deep", mostLevels), "")
		return nil
	}
	switch x := n.(type) {
	case *ast.MappingNode:
		return s.convertMapping(x, out, level)
	case *ast.SequenceNode:
		out.Kind = List
		for _, v := range x.Values {
			item := s.convert(v, level+1)
			if item == nil {
				return nil
			}
			out.Items = append(out.Items, item)
		}
		return out
	case *ast.NullNode:
		out.Kind = Nothing
		return out
	case *ast.BoolNode:
		out.Kind, out.Text = Scalar, strings.ToLower(t.Value)
	case *ast.StringNode:
		out.Kind, out.Text = Scalar, x.Value
	case *ast.LiteralNode:
		out.Kind, out.Text = Scalar, strings.TrimSpace(x.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		out.Kind, out.Text = Scalar, t.Value
	default:
		s.fault(out.Pos, "this cannot stand in a model", "")
		return nil
	}
	out.Verbatim = strings.TrimSpace(t.Origin) == out.Text
	s.checkPrintable(out)
	return out
}

func (s *source) convertMapping(n *ast.MappingNode, out *Node, level int) *Node {
	out.Kind = Mapping
	for i, v := range n.Values {
		key := s.convert(v.Key, level)
		if key == nil {
			return nil
		}
		if key.Kind == Nothing { // null: as a key is a word like any other
			key.Kind, key.Text = Scalar, v.Key.GetToken().Value
		}
		if i == 0 && !n.IsFlowStyle {
			out.Pos = key.Pos // the package gives that of the colon
		}
		s.checkKey(key)
		value := s.convert(v.Value, level+1)
		if value == nil {
			return nil
		}
		if old := out.Find(key.Text); old != nil {
			s.fault(key.Pos, fmt.Sprintf("key %s stands here a second time", machine.Quote(key.Text)),
				fmt.Sprintf("the first is on line %d", old.Key.Pos.Line))
			continue
		}
		out.Pairs = append(out.Pairs, Pair{key, value})
	}
	return out
}

func (s *source) checkKey(key *Node) {
	if bad := NameTrouble(key.Text); bad != "" {
		s.fault(key.Pos, fmt.Sprintf("key %s %s", machine.Quote(key.Text), bad), "")
	}
}

// NameTrouble says why a text cannot be a name; "" when it can.
func NameTrouble(text string) string {
	switch n := utf8.RuneCountInString(text); {
	case strings.TrimSpace(text) == "":
		return "is empty"
	case n > MostName:
		return fmt.Sprintf("is too long: %d characters, at most %d", n, MostName)
	case strings.ContainsRune(text, '\n'):
		return "runs over several lines"
	}
	return ""
}

// checkPrintable keeps out what an escape in a quoted text can smuggle in: names are printed on terminals.
func (s *source) checkPrintable(n *Node) {
	for _, r := range n.Text {
		if r != '\n' && !unicode.IsPrint(r) {
			s.fault(n.Pos, fmt.Sprintf("%s holds a character that cannot be printed, %U", machine.Quote(n.Text), r), "")
			return
		}
	}
}

func posOf(t *token.Token) machine.FilePos {
	if t == nil || t.Position == nil {
		return machine.FilePos{}
	}
	return machine.FilePos{Line: t.Position.Line, Col: t.Position.Column}
}
