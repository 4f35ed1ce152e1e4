package assets

import (
	"embed"
	"io/fs"
	"strings"
)

//go:embed handbook/*.md
var handbook embed.FS

// Page is one page of the handbook.
type Page struct {
	// Title is the page's first heading.
	Title string
	// Text is Markdown. A line of its own that is an image names a picture that
	// the window draws, as in ![what it shows](picture:grid).
	Text string
}

// Handbook returns the pages of the built-in handbook in reading order.
func Handbook() ([]Page, error) {
	names, err := fs.Glob(handbook, "handbook/*.md")
	if err != nil {
		return nil, err
	}
	var pages []Page
	for _, name := range names {
		data, err := handbook.ReadFile(name)
		if err != nil {
			return nil, err
		}
		text := string(data)
		title, _, _ := strings.Cut(strings.TrimPrefix(text, "# "), "\n")
		pages = append(pages, Page{title, text})
	}
	return pages, nil
}
