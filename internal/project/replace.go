package project

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile puts what write writes in the place of the file at path, all or
// nothing. keep is called with the path and an unused name beside it just
// before the new file takes the place; its error stops the replacement.
func replaceFile(path string, keep func(path, spare string) error, write func(io.Writer) error) error {
	path, err := followLinks(path)
	if err != nil {
		return err
	}
	temp, err := createBeside(path)
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name()) // gone already when all went well
	if err := fill(temp, path, write); err != nil {
		return err
	}
	if err := keep(path, temp.Name()+"~"); err != nil {
		return err
	}
	if err := os.Rename(temp.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// followLinks returns the file a symbolic link leads to, so that the link
// stays one.
func followLinks(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		return path, nil
	}
	return real, err
}

// createBeside creates a new hidden file in the folder of path, with the
// permissions any new file gets.
func createBeside(path string) (*os.File, error) {
	for i := 0; ; i++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".organbook-%d-%d.tmp", os.Getpid(), i))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err == nil || !errors.Is(err, fs.ErrExist) || i == 1000 {
			return f, err
		}
	}
}

// fill writes the temporary file, gives it the permissions of the file it is
// to replace, and flushes it to disk.
func fill(temp *os.File, path string, write func(io.Writer) error) error {
	err := write(temp)
	if info, statErr := os.Stat(path); err == nil && statErr == nil {
		err = temp.Chmod(info.Mode().Perm())
	}
	if err == nil {
		err = temp.Sync()
	}
	if closeErr := temp.Close(); err == nil {
		err = closeErr
	}
	return err
}

// keepPrevious makes the present file at path also reachable as path~, without
// a moment in which path is missing.
func keepPrevious(path, spare string) error {
	if info, err := os.Stat(path); err != nil || info.Size() == 0 {
		return nil // nothing to keep
	}
	defer os.Remove(spare)
	if err := os.Link(path, spare); err != nil {
		// Some file systems have no second names; a copy serves as well.
		if err := copyFile(path, spare); err != nil {
			return fmt.Errorf("the previous version could not be kept: %w", err)
		}
	}
	if err := os.Rename(spare, path+"~"); err != nil {
		return fmt.Errorf("the previous version could not be kept: %w", err)
	}
	return nil
}

// keepNothing is for files whose previous version nobody wants.
func keepNothing(string, string) error { return nil }

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if closeErr := out.Close(); err == nil {
		err = closeErr
	}
	return err
}

// syncFolder makes a rename durable. Not every system can; the file itself is
// on disk by now, so a refusal is no loss.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}
