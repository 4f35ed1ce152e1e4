package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// allowed is the map of the house: what each package under internal may
// import of the others. A package that is not here is a mistake, and so is an
// import that is not in its row. Subpackages share their parent's row.
var allowed = map[string][]string{
	"phrase":   {},
	"theory":   {"phrase"},
	"project":  {"theory"},
	"reach":    {"phrase", "theory"},
	"arrange":  {"phrase", "theory", "project", "reach"},
	"perform":  {"theory", "project", "arrange"},
	"synth":    {},
	"player":   {"project", "arrange", "perform", "synth"},
	"engrave":  {"theory", "project", "arrange"},
	"exchange": {"theory", "project", "arrange", "perform", "synth"},
	"ui":       {"phrase", "theory", "project", "reach", "arrange", "perform", "synth", "player", "engrave", "exchange"},
}

// reserved names the one package that may import a library (by prefix).
var reserved = map[string]string{
	"fyne.io/":                          "ui",
	"github.com/go-gl/glfw":             "ui",
	"github.com/hajimehoshi/oto":        "player",
	"gitlab.com/gomidi/midi/v2/drivers": "player",
	"github.com/spf13/cobra":            "cmd",
}

// stdOnly are the packages that stand on the standard library alone.
var stdOnly = []string{"phrase", "theory", "synth"}

type importing struct{ file, pkg, imported string }

func TestImportsFollowTheMap(t *testing.T) {
	imports := allImports(t)
	if len(imports) < 100 {
		t.Fatalf("only %d imports found; the walk is broken", len(imports))
	}
	for _, i := range imports {
		if problem := judge(i); problem != "" {
			t.Errorf("%s imports %q: %s", i.file, i.imported, problem)
		}
	}
}

func TestImportRulesCatchViolations(t *testing.T) {
	for _, i := range []importing{
		{"internal/theory/x.go", "theory", "organbook/internal/project"},
		{"internal/synth/x.go", "synth", "golang.org/x/image/font"},
		{"internal/arrange/x.go", "arrange", "organbook/internal/perform"},
		{"internal/arrange/x.go", "arrange", "fyne.io/fyne/v2"},
		{"internal/ui/x.go", "ui", "github.com/hajimehoshi/oto/v2"},
		{"internal/newroom/x.go", "newroom", "fmt"},
		{"internal/exchange/wav/x.go", "exchange", "organbook/internal/player"},
	} {
		if judge(i) == "" {
			t.Errorf("%s importing %q is not caught", i.file, i.imported)
		}
	}
}

func TestOneFileTouchesTheSoundDevice(t *testing.T) {
	var files []string
	for _, i := range allImports(t) {
		if strings.HasPrefix(i.imported, "github.com/hajimehoshi/oto") {
			files = append(files, i.file)
		}
	}
	if len(files) != 1 {
		t.Errorf("the sound device's library is imported by %v; one file of player may", files)
	}
}

// judge says what is wrong with an import, or nothing.
func judge(i importing) string {
	for prefix, owner := range reserved {
		if strings.HasPrefix(i.imported, prefix) && i.pkg != owner {
			return "only " + owner + " may"
		}
	}
	if i.pkg == "cmd" || i.pkg == "assets" {
		return ""
	}
	row, known := allowed[i.pkg]
	if !known {
		return "package " + i.pkg + " is not on the map"
	}
	if inside, ok := strings.CutPrefix(i.imported, "organbook/internal/"); ok {
		other, _, _ := strings.Cut(inside, "/")
		if other != i.pkg && !slices.Contains(row, other) {
			return i.pkg + " may import only " + strings.Join(row, ", ")
		}
		return ""
	}
	if slices.Contains(stdOnly, i.pkg) && strings.Contains(i.imported, ".") {
		return i.pkg + " stands on the standard library alone"
	}
	return ""
}

// allImports lists the imports of every non-test file of the module, for all
// systems and build tags.
func allImports(t *testing.T) []importing {
	t.Helper()
	var out []importing
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (strings.HasPrefix(name, ".") && name != ".." || name == "testdata" || name == "build") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range parsed.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			out = append(out, importing{filepath.ToSlash(rel), room(filepath.ToSlash(rel)), imported})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// room names the package of the map that a file belongs to.
func room(file string) string {
	parts := strings.Split(path.Dir(file), "/")
	if parts[0] == "internal" && len(parts) > 1 {
		return parts[1]
	}
	return parts[0]
}
