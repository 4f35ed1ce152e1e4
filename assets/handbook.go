package assets

import (
	"embed"
	"errors"
	"image"
	"image/png"
	"io/fs"
	"path"
	"strings"
)

//go:embed handbook/*.md handbook/*/*.md handbook/pictures/*.png handbook/pictures/*/*.png
var handbook embed.FS

// Page is one page of the handbook.
type Page struct {
	// Title is the page's first heading.
	Title string
	// Text is Markdown. A line of its own that is an image names a picture that
	// the window draws, as in ![what it shows](picture:grid).
	Text string
}

// Picture returns a picture of a part of the window by its name, such as
// "bench-dark", in a language by its code; what the language lacks is in English.
func Picture(name, language string) (image.Image, error) {
	f, err := handbook.Open("handbook/pictures/" + language + "/" + name + ".png")
	if errors.Is(err, fs.ErrNotExist) {
		f, err = handbook.Open("handbook/pictures/" + name + ".png")
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

// Handbook returns the pages of the built-in handbook in reading order, in English.
func Handbook() ([]Page, error) { return HandbookIn("en") }

// HandbookIn returns the pages in a language by its code, such as "de"; a page that
// the language lacks is in English.
func HandbookIn(language string) ([]Page, error) {
	names, err := fs.Glob(handbook, "handbook/*.md")
	if err != nil {
		return nil, err
	}
	var pages []Page
	for _, name := range names {
		data, err := handbook.ReadFile(path.Join("handbook", language, path.Base(name)))
		if errors.Is(err, fs.ErrNotExist) {
			data, err = handbook.ReadFile(name)
		}
		if err != nil {
			return nil, err
		}
		text := string(data)
		title, _, _ := strings.Cut(strings.TrimPrefix(text, "# "), "\n")
		pages = append(pages, Page{title, text})
	}
	return pages, nil
}
