package musicxml

import (
	"archive/zip"
	"bufio"
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path"
	"slices"
	"strings"
)

// Limits of a compressed score. The directory of an archive is read as a
// whole, so the count is looked up before.
const (
	maxArchive = 64 << 20
	maxEntries = 4096
	// maxTried bounds how many of its files are opened in search of a score.
	maxTried = 32
)

// openArchive opens the score inside a compressed MusicXML file: the root file
// that META-INF/container.xml names, or without a usable one the first file
// that looks like a score.
func openArchive(r io.ReaderAt, size int64, notes *notices) (io.ReadCloser, error) {
	if size > maxArchive {
		return nil, fmt.Errorf("%w: the archive has %d MB, a compressed score at most %d", ErrTooLarge, size>>20, maxArchive>>20)
	}
	if n, ok := archiveEntries(r, size); ok && n > maxEntries {
		return nil, fmt.Errorf("%w: the archive holds %d files, a compressed score at most %d", ErrTooLarge, n, maxEntries)
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("%w: the archive is cut off or broken (%w); fetch or save the score again", ErrDamaged, err)
	}
	for _, f := range rootFiles(z, notes) {
		if !holdsScore(f) {
			continue
		}
		rc, err := f.Open()
		if err == nil {
			return rc, nil
		}
		notes.add("", "%s in the archive cannot be opened: %v", f.Name, err)
	}
	return nil, fmt.Errorf("%w: the archive holds no score that can be opened; unpack it and look for an .xml or .musicxml file", ErrNotMusicXML)
}

// archiveEntries reads the number of files from the record at the end of a zip
// archive, which a comment of up to 64 kB may follow.
func archiveEntries(r io.ReaderAt, size int64) (int, bool) {
	const record = 22
	tail := make([]byte, min(size, record+64<<10))
	if n, _ := r.ReadAt(tail, size-int64(len(tail))); n < len(tail) {
		return 0, false
	}
	i := bytes.LastIndex(tail, []byte("PK\x05\x06"))
	if i < 0 || len(tail)-i < record {
		return 0, false
	}
	return int(binary.LittleEndian.Uint16(tail[i+10:])), true
}

// rootFiles lists the files worth opening, best first.
func rootFiles(z *zip.Reader, notes *notices) []*zip.File {
	named := containerRoots(z)
	var found []*zip.File
	for _, name := range named {
		if f := findFile(z, name); f != nil {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		notes.add("", "the archive's table of contents (META-INF/container.xml) is missing or wrong; the first score in it is read")
	}
	for _, f := range plausibleFiles(z) {
		if !slices.Contains(found, f) {
			found = append(found, f)
		}
	}
	return found[:min(len(found), maxTried)]
}

// containerRoots returns the paths that the container file names, MusicXML
// media types first.
func containerRoots(z *zip.Reader) []string {
	f := findFile(z, "META-INF/container.xml")
	if f == nil {
		return nil
	}
	rc, err := f.Open()
	if err != nil {
		return nil
	}
	defer rc.Close()
	d := xml.NewDecoder(decodeText(io.LimitReader(rc, maxProlog), newNotices()))
	d.Strict = false
	d.CharsetReader = sameText
	var scores, others []string
	for {
		token, err := d.RawToken()
		if err != nil || len(scores)+len(others) == maxTried {
			return append(scores, others...)
		}
		if e, ok := token.(xml.StartElement); ok && strings.EqualFold(e.Name.Local, "rootfile") {
			path, media := attribute(e.Attr, "full-path"), attribute(e.Attr, "media-type")
			if media == "" || strings.Contains(media, "musicxml") {
				scores = append(scores, path)
			} else {
				others = append(others, path)
			}
		}
	}
}

// sameText answers the decoder's wish for another encoding: the text has been
// decoded already.
func sameText(_ string, r io.Reader) (io.Reader, error) { return r, nil }

// findFile finds a path in an archive: exactly, or else ignoring case, the
// kind of slash, escapes and a leading "/" or "./".
func findFile(z *zip.Reader, name string) *zip.File {
	for _, f := range z.File {
		if f.Name == name {
			return f
		}
	}
	for _, f := range z.File {
		if name != "" && plainPath(f.Name) == plainPath(name) {
			return f
		}
	}
	return nil
}

func plainPath(name string) string {
	if plain, err := url.PathUnescape(name); err == nil {
		name = plain
	}
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, `\`, "/")), "/"))
}

// plausibleFiles lists the files that may be a score, by ending and depth:
// score.xml before parts/one.xml before readme.
func plausibleFiles(z *zip.Reader) []*zip.File {
	var files []*zip.File
	for _, f := range z.File {
		name := plainPath(f.Name)
		aside := strings.HasPrefix(name, "meta-inf/") || strings.HasPrefix(name, "__macosx/") || strings.HasPrefix(path.Base(name), ".")
		if !aside && !strings.HasSuffix(f.Name, "/") && name != "mimetype" {
			files = append(files, f)
		}
	}
	slices.SortStableFunc(files, func(a, b *zip.File) int { return implausible(a) - implausible(b) })
	return files
}

// implausible is lower for files that are likelier to be the score.
func implausible(f *zip.File) int {
	name := plainPath(f.Name)
	depth := min(strings.Count(name, "/"), 99)
	if ext := path.Ext(name); ext != ".xml" && ext != ".musicxml" {
		depth += 100
	}
	return depth
}

// holdsScore looks at the root element of a file in an archive. Files that
// cannot be opened or are unsafe pass, for their own error says more.
func holdsScore(f *zip.File) bool {
	rc, err := f.Open()
	if err != nil {
		return true // openArchive reports why
	}
	defer rc.Close()
	p, err := readProlog(bufio.NewReader(decodeText(rc, newNotices())))
	return err == nil && isScore(p.root) || errors.Is(err, ErrUnsafe)
}
