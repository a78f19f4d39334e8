package paper

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// newFileMode is the mode of a file that did not exist before, as other programs' output has it under a usual umask.
const newFileMode = 0o644

// File is a file to be written.
type File struct {
	Path string
	Data []byte
}

// WriteFileWhole writes data to path whole or not at all: to a temporary file beside it, which then takes its place.
// When it fails, the file that stood there before is as it was and nothing is left beside it. Where path is a symbolic
// link, the file it points to is written, and the link stays.
func WriteFileWhole(path string, data []byte) error { return WriteFilesWhole([]File{{path, data}}) }

// WriteFilesWhole writes several files, all of them or none, each as WriteFileWhole does: when one cannot be written,
// those that stood there before are put back, and new ones are removed.
func WriteFilesWhole(files []File) (err error) {
	var staged []*stagedFile
	defer func() {
		for i := len(staged) - 1; i >= 0; i-- {
			if err != nil {
				staged[i].undo()
			}
			staged[i].clean()
		}
	}()
	for _, f := range files {
		s, err := stage(f, len(files) > 1)
		if err != nil {
			return fmt.Errorf("writing %s: %w", f.Path, cause(err))
		}
		staged = append(staged, s)
	}
	for i, s := range staged {
		if err := os.Rename(s.fresh, s.path); err != nil {
			return fmt.Errorf("writing %s: %w", files[i].Path, cause(err))
		}
		s.placed = true
	}
	return nil
}

// stagedFile is a file on its way to its place.
type stagedFile struct {
	path   string // where it belongs
	fresh  string // where it waits, beside it
	before string // what stood there, under another name; "": nothing did, or nobody needs it
	placed bool
}

// stage writes a file beside its place; with keeping what stands there can be put back.
func stage(f File, keeping bool) (s *stagedFile, err error) {
	s = &stagedFile{path: f.Path}
	if target, linkErr := filepath.EvalSymlinks(f.Path); linkErr == nil {
		s.path = target
	} else if target, linkErr := os.Readlink(f.Path); linkErr == nil { // it points to a file that is not there yet
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(f.Path), target)
		}
		s.path = target
	}
	mode, there := os.FileMode(newFileMode), false
	if old, statErr := os.Stat(s.path); statErr == nil {
		if !old.Mode().IsRegular() {
			return nil, errors.New("it is there already and is not a plain file")
		}
		mode, there = old.Mode().Perm(), true
	}
	// The temporary name has nothing of the file's own, which may be as long as names can be.
	to, err := os.CreateTemp(filepath.Dir(s.path), ".tiploop-*")
	if err != nil {
		return nil, err
	}
	s.fresh = to.Name()
	defer func() {
		if err != nil {
			_ = to.Close() // closed already on some ways here; the first error is the one to tell
			s.clean()
		}
	}()
	if _, err = to.Write(f.Data); err != nil {
		return nil, err
	}
	if err = to.Chmod(mode); err != nil {
		return nil, err
	}
	if err = to.Sync(); err != nil {
		return nil, err
	}
	if err = to.Close(); err != nil {
		return nil, err
	}
	if keeping && there {
		before := s.fresh + "-before"
		if err = os.Link(s.path, before); err != nil {
			return nil, err
		}
		s.before = before
	}
	return s, nil
}

// undo puts back what stood in the file's place. Nothing more can be done where that fails.
func (s *stagedFile) undo() {
	switch {
	case !s.placed:
	case s.before != "":
		_ = os.Rename(s.before, s.path)
	default:
		_ = os.Remove(s.path)
	}
}

// clean leaves nothing beside the file.
func (s *stagedFile) clean() {
	if !s.placed {
		_ = os.Remove(s.fresh)
	}
	if s.before != "" {
		_ = os.Remove(s.before)
	}
}

// cause is what the file system said, without the name of the temporary file, which is another one on every run.
func cause(err error) error {
	var onPath *fs.PathError
	var onLink *os.LinkError
	switch {
	case errors.As(err, &onPath):
		return onPath.Err
	case errors.As(err, &onLink):
		return onLink.Err
	}
	return err
}
