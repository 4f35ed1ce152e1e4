package musicxml

import (
	"path"
	"strings"

	"organbook/internal/project"
)

// title returns the name of the work or movement, else the title printed on
// the first page, else the file's name without its ending.
func (s *score) title(name string) string {
	candidates := []string{
		s.headText("work", "work-title"),
		s.headText("movement-title", ""),
		s.creditOf("title"),
		s.largestCredit(),
		strings.TrimSuffix(path.Base(strings.ReplaceAll(name, `\`, "/")), path.Ext(name)),
	}
	for _, c := range candidates {
		if t := project.OneLine(c, project.MaxTitle); t != "" {
			return t
		}
	}
	return ""
}

// headText returns the text of a head element or of a child of it.
func (s *score) headText(name, child string) string {
	for _, n := range s.head {
		switch {
		case n.name != name:
		case child == "":
			return n.text
		default:
			return n.value(child)
		}
	}
	return ""
}

// composer returns the composers, else the creator without a role, else the
// credit that says so.
func (s *score) composer() string {
	var composers, others []string
	for _, n := range s.head {
		if n.name != "identification" {
			continue
		}
		for _, k := range n.kids {
			switch role := strings.ToLower(k.attr("type")); {
			case k.name != "creator":
			case role == "composer" || role == "music":
				composers = append(composers, strings.TrimSpace(k.text))
			case role == "":
				others = append(others, strings.TrimSpace(k.text))
			}
		}
	}
	for _, names := range [][]string{composers, others, {s.creditOf("composer")}} {
		if text := project.OneLine(strings.Join(names, ", "), project.MaxTitle); text != "" {
			return text
		}
	}
	return ""
}

// creditOf returns the words of the credit of a type.
func (s *score) creditOf(kind string) string {
	for _, n := range s.head {
		if n.name != "credit" {
			continue
		}
		for _, k := range n.kids {
			if k.name == "credit-type" && strings.EqualFold(strings.TrimSpace(k.text), kind) {
				return creditWords(n)
			}
		}
	}
	return ""
}

func creditWords(n *node) string {
	var words []string
	n.each("credit-words", func(k *node) { words = append(words, strings.TrimSpace(k.text)) })
	return strings.Join(words, " ")
}

// largestCredit returns the words in the largest print on the first page that
// are not said to be something else than a title; among equals the first.
func (s *score) largestCredit() string {
	best, words := 0.0, ""
	for _, n := range s.head {
		if page := n.attr("page"); n.name != "credit" || page != "" && page != "1" || n.has("credit-type") {
			continue
		}
		size := 0.0
		n.each("credit-words", func(k *node) { size = max(size, firstNumber(k.attr("font-size"))) })
		if text := creditWords(n); text != "" && (words == "" || size > best) {
			best, words = size, text
		}
	}
	return words
}
