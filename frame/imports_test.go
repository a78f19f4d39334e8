package frame_test

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// listed is a package as the go command lists it.
type listed struct {
	ImportPath string
	Dir        string
	Name       string
	GoFiles    []string
	Imports    []string
	Deps       []string
}

// listing is what the go command lists, asked for once.
var listing = sync.OnceValues(func() ([]byte, error) { return exec.Command("go", "list", "-json", "tiploop/...").Output() })

// project lists every package of the project. What stands under testdata the go command passes over.
func project(t *testing.T) (list []listed) {
	t.Helper()
	out, err := listing()
	require.NoError(t, err)
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			return list
		}
		require.NoError(t, err)
		list = append(list, p)
	}
}

// order lists every package of the project with those that it stands on directly; what these stand on it stands on,
// too. What a machine is (machine) knows neither how it is read (modelfile) nor how it is solved (structure), and
// these do not know one another; an answer is plain numbers and knows none of them. Paper knows no machine, a drawing
// no report; a report is made of an answer and knows nothing of how it came about.
var order = map[string][]string{
	"tiploop/beam":               nil,
	"tiploop/frame/constant":     nil,
	"tiploop/frame/chance":       {"frame/constant"},
	"tiploop/frame/fingerprint":  nil,
	"tiploop/frame/sparse/order": nil,
	"tiploop/frame/sparse":       {"frame/sparse/order"},
	"tiploop/frame":              {"beam", "frame/sparse"},
	"tiploop/frame/coupling":     {"frame"},
	"tiploop/frame/outline":      nil,
	"tiploop/frame/solid":        {"beam", "frame/outline", "frame/sparse"},
	"tiploop/frame/joint":        {"frame/constant"},
	"tiploop/frame/cutting":      {"frame/constant"},
	"tiploop/frame/guide":        {"beam", "frame/constant"},
	"tiploop/frame/drive":        {"beam", "frame/constant"},
	"tiploop/frame/spindle":      {"beam", "frame/constant"},
	"tiploop/frame/answer":       {"frame/chance"},
	"tiploop/frame/machine": {"frame/cutting", "frame/drive", "frame/guide", "frame/joint", "frame/outline",
		"frame/spindle"},
	"tiploop/frame/doubt":            {"frame", "frame/chance", "frame/machine"},
	"tiploop/frame/alignment":        {"frame/answer"},
	"tiploop/frame/shopwork":         {"frame/answer", "frame/machine"},
	"tiploop/frame/yielding":         {"frame/answer", "frame/machine"},
	"tiploop/frame/svgpath":          nil,
	"tiploop/frame/modelfile/source": {"frame/machine"},
	"tiploop/frame/modelfile":        {"frame/fingerprint", "frame/modelfile/source", "frame/svgpath"},
	"tiploop/frame/structure": {
		"frame/alignment",
		"frame/coupling",
		"frame/doubt",
		"frame/fingerprint",
		"frame/shopwork",
		"frame/solid",
		"frame/surface",
		"frame/yielding",
	},
	"tiploop/frame/surface":          nil,
	"tiploop/report/number":          nil,
	"tiploop/report/wrap":            nil,
	"tiploop/report/contour":         nil,
	"tiploop/report/manual":          nil,
	"tiploop/report/paper":           {"report/number", "report/wrap"},
	"tiploop/report/paper/papertest": {"report/paper"},
	"tiploop/report/drawing":         {"frame/answer", "frame/machine", "report/paper"},
	"tiploop/report/scene":           {"report/drawing"},
	"tiploop/report/workshop":        {"frame/machine", "report/paper", "report/phrase"},
	"tiploop/report/table":           {"report/wrap"},
	"tiploop/report/phrase":          {"frame/answer", "report/number", "report/wrap"},
	"tiploop/report/reference":       {"beam", "frame/machine", "report/number", "report/table"},
	"tiploop/report/screen":          {"report/phrase", "report/table", "report/verdict"},
	"tiploop/report/verdict":         {"frame/answer", "report/phrase"},
	"tiploop/report/graph":           {"frame/answer", "report/contour", "report/paper"},
	"tiploop/report": {"frame/machine", "report/graph", "report/phrase", "report/table",
		"report/verdict"},
	"tiploop/report/live":            {"report/phrase", "report/verdict"},
	"tiploop/report/page":            {"report", "report/scene", "report/screen"},
	"tiploop/report/browsertest":     nil,
	"tiploop/report/internal/sample": {"frame/answer", "frame/machine"},
	"tiploop/cmd/tiploop": {"frame/modelfile", "frame/structure", "report", "report/drawing", "report/live", "report/manual",
		"report/page", "report/reference", "report/scene", "report/screen", "report/workshop"},
}

// Imports run one way, from cmd downwards: a package imports none of the project but those it may stand on. Every
// package is in the order.
func TestImportsRunOneWay(t *testing.T) {
	var below func(of string) []string
	below = func(of string) (list []string) {
		for _, name := range order[of] {
			list = append(append(list, "tiploop/"+name), below("tiploop/"+name)...)
		}
		return list
	}
	known := map[string]bool{}
	for _, p := range project(t) {
		_, ordered := order[p.ImportPath]
		require.True(t, ordered, "%s stands in no order: add it", p.ImportPath)
		known[p.ImportPath] = true
		may := below(p.ImportPath)
		for _, name := range p.Imports {
			if strings.HasPrefix(name, "tiploop/") {
				require.Contains(t, may, name, "%s imports %s", p.ImportPath, name)
			}
		}
	}
	for of := range order {
		require.True(t, known[of], "%s is in the order, and there is no such package", of)
	}
}

// YAML stops at the source of the model file.
func TestOnlySourceKnowsYAML(t *testing.T) {
	readers := 0
	for _, p := range project(t) {
		for _, name := range p.Imports {
			if strings.Contains(name, "yaml") {
				require.Equal(t, "tiploop/frame/modelfile/source", p.ImportPath, name)
				readers++
			}
		}
	}
	require.NotZero(t, readers, "nothing reads YAML: this test looks in the wrong place")
}

// flagWord is a flag of a command line in a text.
var flagWord = regexp.MustCompile(`(^|[^-\w])--[a-z]`)

// Nothing below cmd prints by itself, and none of its texts names a flag: there may be no command line above it.
func TestOnlyCmdPrintsAndNamesFlags(t *testing.T) {
	flags := 0
	for _, p := range project(t) {
		for _, name := range p.GoFiles {
			path := filepath.Join(p.Dir, name)
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.SelectorExpr:
					if x, ok := n.X.(*ast.Ident); ok && p.Name != "main" {
						prints := x.Name == "os" && slices.Contains([]string{"Stdout", "Stderr", "Stdin"}, n.Sel.Name) ||
							x.Name == "fmt" && slices.Contains([]string{"Print", "Printf", "Println"}, n.Sel.Name)
						require.False(t, prints, "%s: %s.%s", path, x.Name, n.Sel.Name)
					}
				case *ast.BasicLit:
					text, err := strconv.Unquote(n.Value)
					if n.Kind != token.STRING || err != nil || !flagWord.MatchString(text) {
						return true
					}
					require.Equal(t, "main", p.Name, "%s names a flag: %s", path, text)
					flags++
				case *ast.CallExpr:
					if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "print" || f.Name == "println") {
						require.Equal(t, "main", p.Name, "%s prints", path)
					}
				}
				return true
			})
		}
	}
	require.NotZero(t, flags, "cmd names no flag: this test looks in the wrong place")
}

// goFile is a Go file named in a text.
var goFile = regexp.MustCompile("`([\\w./]+\\.go)`")

// Every Go file that DEVELOPERS.md names is there: one of a room in that room, one of a path at that path, seen from
// the root or from frame, and another one anywhere.
func TestDevelopersNamesFilesThatExist(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	require.NoError(t, err)
	anywhere := map[string]bool{}
	for _, p := range project(t) {
		files, err := filepath.Glob(filepath.Join(p.Dir, "*.go"))
		require.NoError(t, err)
		for _, f := range files {
			anywhere[filepath.Base(f)] = true
		}
	}
	named := 0
	for _, line := range strings.Split(string(text), "\n") {
		var rooms []string
		if strings.HasPrefix(line, "| `") {
			for _, room := range strings.Split(strings.Split(line, "|")[1], ",") {
				rooms = append(rooms, strings.Trim(room, " `"))
			}
		}
		for _, found := range goFile.FindAllStringSubmatch(line, -1) {
			named++
			name := found[1]
			switch {
			case strings.Contains(name, "/"):
				_, fromRoot := os.Stat(filepath.Join("..", name))
				_, fromFrame := os.Stat(name)
				require.True(t, fromRoot == nil || fromFrame == nil, "no file %s", name)
			case rooms == nil:
				require.True(t, anywhere[name], "no file %s", name)
			}
			for _, room := range rooms {
				require.FileExists(t, filepath.Join("..", room, name))
			}
		}
	}
	require.NotZero(t, named, "DEVELOPERS.md names no file: this test looks in the wrong place")
}
