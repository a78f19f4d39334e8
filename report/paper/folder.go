package paper

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// newFolderMode is the mode of a folder that did not exist before, as other programs' has it under a usual umask.
const newFolderMode = 0o755

// Contents is the file by which a folder that WriteFolderWhole wrote is known again: after a line of its own the name and
// the SHA-256 of each of the other files, so that one that somebody has changed since is told from what was written.
const Contents = "contents.txt"

// contentsHead is its first line.
const contentsHead = "Written by tiploop, which replaces this folder as long as nothing in it is changed."

// WriteFolderWhole writes files into the folder path, whole or not at all: into a temporary folder beside it, which then
// takes its place. A folder that is there already is replaced only if it holds nothing but what this function wrote there
// before, unchanged, so that no file of an earlier machine stays among those of this one, and nobody's own files are lost; else it
// is an error, and the folder is as it was. Paths are names in the folder: plain, different, and none of them Contents, which
// is added. Where path is a symbolic link to a folder, that folder is written.
func WriteFolderWhole(path string, files []File) (err error) {
	asked := path
	fail := func(err error) error { return fmt.Errorf("writing %s: %w", asked, cause(err)) }
	if target, linkErr := filepath.EvalSymlinks(path); linkErr == nil {
		path = target
	}
	files = append(slices.Clone(files), contentsOf(files))
	there, err := replaceable(path)
	if err != nil {
		return fail(err)
	}
	path = filepath.Clean(path)
	staged, err := os.MkdirTemp(filepath.Dir(path), ".tiploop-*")
	if err != nil {
		return fail(err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(staged) // the first error is the one to tell
		}
	}()
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(staged, f.Path), f.Data, newFileMode); err != nil {
			return fail(err)
		}
	}
	if err := os.Chmod(staged, newFolderMode); err != nil {
		return fail(err)
	}
	if !there {
		if err := os.Rename(staged, path); err != nil {
			return fail(err)
		}
		return nil
	}
	if err := swap(staged, path); err != nil {
		return fail(err)
	}
	return nil
}

// contentsOf is the file that names the others.
func contentsOf(files []File) File {
	var names []string
	text := contentsHead + "\n"
	for _, f := range files {
		if f.Path != filepath.Base(f.Path) || f.Path == "." || f.Path == ".." || f.Path == Contents ||
			slices.Contains(names, f.Path) {
			panic(fmt.Sprintf("paper: %q is no name of a file in a folder", f.Path))
		}
		names = append(names, f.Path)
		text += contentsLine(f.Path, f.Data) + "\n"
	}
	return File{Contents, []byte(text)}
}

// contentsLine names a file and what is in it.
func contentsLine(name string, data []byte) string {
	return fmt.Sprintf("%x  %s", sha256.Sum256(data), name)
}

// replaceable tells whether there is a folder, and gives an error unless it may be replaced.
func replaceable(path string) (there bool, err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, err
	case !info.IsDir():
		return false, errors.New("it is there already and is no folder")
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return false, err
	}
	var known []string
	if text, err := os.ReadFile(filepath.Join(path, Contents)); err == nil {
		if lines := strings.Split(string(text), "\n"); lines[0] == contentsHead {
			known = lines[1:]
		}
	}
	for _, e := range entries {
		if e.Name() == Contents && known != nil {
			continue
		}
		data, err := os.ReadFile(filepath.Join(path, e.Name()))
		if err != nil || !e.Type().IsRegular() || !slices.Contains(known, contentsLine(e.Name(), data)) {
			return false, fmt.Errorf("it holds %q, which was not written here before, or was changed: choose another folder", e.Name())
		}
	}
	return true, nil
}

// swap puts a staged folder in the place of one that is there, which is removed then. When it fails, the one that was
// there is back.
func swap(staged, path string) error {
	old := staged + ".old"
	if err := os.Rename(path, old); err != nil {
		return err
	}
	if err := os.Rename(staged, path); err != nil {
		_ = os.Rename(old, path) // the first error is the one to tell
		return err
	}
	return os.RemoveAll(old)
}
