package ui

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"organbook/internal/ui/session"
)

// writtenTexts are the texts that the sources of a package and those under it
// write for people, each with 7 for what fills it in: all literals with words
// between spaces in the window's packages, and what errors say everywhere.
type writtenTexts struct {
	all   map[string]string // text → where
	files *token.FileSet
}

var (
	anyVerb = regexp.MustCompile(`%[-+# 0-9.]*(\[\d\])?[a-zA-Z]`)
	// notForPeople are calls whose texts go to the log, a file or the system.
	// tellsWhatIsWrong are functions outside the window that word an error.
	tellsWhatIsWrong = []string{"fail", "add", "at", "tooLarge", "damaged", "broken"}
	notForPeople     = []string{"LogError", "panic", "Printf", "Fprintf", "Fprintln", "MustCompile", "Getenv", "LookPath", "Command", "Int", "Bool", "Float", "SetInt", "SetBool", "SetFloat", "IntWithFallback", "BoolWithFallback", "FloatWithFallback", "String", "SetString"}
)

func (w *writtenTexts) read(t *testing.T, dir string, errorsOnly bool) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(w.files, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool { return w.visit(n, errorsOnly) })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func (w *writtenTexts) visit(n ast.Node, errorsOnly bool) bool {
	switch n := n.(type) {
	case *ast.ImportSpec, *ast.Field:
		return false
	case *ast.KeyValueExpr: // words that find a command, and its name in files
		if k, ok := n.Key.(*ast.Ident); ok && (k.Name == "Also" || k.Name == "ID") {
			return false
		}
	case *ast.FuncDecl:
		if errorsOnly && n.Name.Name == "Name" && n.Body != nil { // an edit's, for undo
			ast.Inspect(n.Body, func(n ast.Node) bool { return w.visit(n, false) })
			return false
		}
	case *ast.CallExpr:
		name := calledName(n)
		switch {
		case slices.Contains(notForPeople, name):
			return false
		case (name == "Errorf" || name == "New") && isPackage(n, "fmt", "errors"):
			w.add(n, session.Sentence(errors.New(written(n.Args[0], name == "Errorf"))))
			for _, a := range n.Args[1:] {
				ast.Inspect(a, func(n ast.Node) bool { return w.visit(n, errorsOnly) })
			}
			return false
		case errorsOnly && slices.Contains(tellsWhatIsWrong, name):
			for _, a := range n.Args {
				if l, ok := a.(*ast.BasicLit); ok {
					w.add(n, written(l, true))
				}
			}
		case name == "Sprintf" && !errorsOnly:
			w.add(n, written(n, false))
			for _, a := range n.Args[1:] {
				ast.Inspect(a, func(n ast.Node) bool { return w.visit(n, errorsOnly) })
			}
			return false
		}
	case *ast.AssignStmt:
		if n.Tok == token.ADD_ASSIGN && !errorsOnly && hasLiteral(n.Rhs[0]) {
			w.add(n, "7"+written(n.Rhs[0], false))
			return false
		}
	case *ast.BinaryExpr:
		if n.Op == token.ADD && !errorsOnly && hasLiteral(n) {
			w.add(n, written(n, false))
			return false
		}
	case *ast.BasicLit:
		if n.Kind == token.STRING && !errorsOnly {
			w.add(n, written(n, false))
		}
	}
	return true
}

func (w *writtenTexts) add(n ast.Node, text string) {
	if strings.Contains(strings.TrimSpace(text), " ") && hasWord(text) && w.all[text] == "" {
		w.all[text] = w.files.Position(n.Pos()).String()
	}
}

// written is what an expression says, with 7 for what is not known.
func written(e ast.Expr, format bool) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if s, err := strconv.Unquote(e.Value); err == nil && e.Kind == token.STRING {
			if format {
				s = strings.ReplaceAll(anyVerb.ReplaceAllString(strings.ReplaceAll(s, "%%", "\x00"), "7"), "\x00", "%")
			}
			return s
		}
	case *ast.ParenExpr:
		return written(e.X, format)
	case *ast.BinaryExpr:
		if e.Op == token.ADD {
			return written(e.X, format) + written(e.Y, format)
		}
	case *ast.CallExpr:
		if name := calledName(e); (name == "Sprintf" || name == "Errorf") && isPackage(e, "fmt") {
			return written(e.Args[0], true)
		}
	}
	return "7"
}

func hasLiteral(e ast.Expr) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
			found = true
		}
		return !found
	})
	return found
}

func calledName(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

func isPackage(c *ast.CallExpr, names ...string) bool {
	s, ok := c.Fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && slices.Contains(names, x.Name)
}

// notSaid are texts in the sources that nobody reads in the window, and pieces
// of texts that are looked up as a whole.
var notSaid = []string{
	"focus.MIDI page", "out 7", "moved to the file of my own", "own keys", "registration sound",
	"search: 7", "reach page", "vibrato.upper.light with dry", "vibrato.lower.light with dry", "vibrato.pedal.light with dry", "   and here", "77 — Organbook", ", in the 7", "the 7",
	", played as V", " over a pedal", "tritone sub of V/", "backdoor V/",
	"state notes=7 changes=7 blocks=7 pins=7 at=7 shown=7 plan=7 registration=7 playing=7 loop=7 dirty=7 undo=7 redo=7 focus=7 dialogs=7 file=7",
	"sound device=7 late=7 starved=7 lost=7 longest=7 waited=7 buffer=7",
}

// TestWhatTheSourcesSayIsSaidInGerman reads the texts in the sources of the window
// and the errors of what it uses, and looks for those that stay English.
func TestWhatTheSourcesSayIsSaidInGerman(t *testing.T) {
	inGerman(t)
	w := writtenTexts{map[string]string{}, token.NewFileSet()}
	w.read(t, ".", false)
	for _, dir := range []string{"project", "theory", "reach", "player", "exchange"} {
		w.read(t, filepath.Join("..", dir), true)
	}
	for _, text := range notSaid {
		if w.all[text] == "" {
			t.Errorf("nothing says %q any more", text)
		}
		delete(w.all, text)
	}
	var list []string
	for text, where := range w.all {
		if strings.HasPrefix(text, "#version ") || strings.HasPrefix(text, "<svg ") {
			continue // a program for the graphics card, or a picture
		}
		clear(translated.cache)
		clear(translated.unknown)
		tr(text)
		if missing := translated.missing(); len(missing) > 0 {
			list = append(list, where+": "+strings.Join(missing, " | "))
		}
	}
	slices.Sort(list)
	t.Logf("%d texts", len(w.all))
	if len(list) > 0 {
		t.Errorf("%d texts have no German:\n%s", len(list), strings.Join(list, "\n"))
	}
}
