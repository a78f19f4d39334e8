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

// WriteFileWhole writes data to path whole or not at all: to a temporary file beside it, which then takes its place.
// When it fails, the file that stood there before is as it was and nothing is left beside it. Where path is a symbolic
// link, the file it points to is written, and the link stays.
func WriteFileWhole(path string, data []byte) (err error) {
	asked := path
	if target, linkErr := filepath.EvalSymlinks(path); linkErr == nil {
		path = target
	} else if target, linkErr := os.Readlink(path); linkErr == nil { // it points to a file that is not there yet
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(path), target)
		}
		path = target
	}
	mode := os.FileMode(newFileMode)
	if old, statErr := os.Stat(path); statErr == nil {
		if !old.Mode().IsRegular() {
			return fmt.Errorf("writing %s: it is there already and is not a plain file", asked)
		}
		mode = old.Mode().Perm()
	}
	// The temporary name has nothing of path's own, which may be as long as names can be.
	f, err := os.CreateTemp(filepath.Dir(path), ".tiploop-*")
	if err != nil {
		return fmt.Errorf("writing %s: %w", asked, cause(err))
	}
	defer func() {
		if err != nil {
			_ = f.Close() // closed already on some ways here; the first error is the one to tell
			_ = os.Remove(f.Name())
			err = fmt.Errorf("writing %s: %w", asked, cause(err))
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Chmod(mode); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
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
