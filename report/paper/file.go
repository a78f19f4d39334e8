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
// When it fails, the file that stood there before is as it was and nothing is left beside it.
func WriteFileWhole(path string, data []byte) (err error) {
	mode := os.FileMode(newFileMode)
	if old, statErr := os.Stat(path); statErr == nil {
		if !old.Mode().IsRegular() {
			return fmt.Errorf("writing %s: it is there already and is not a plain file", path)
		}
		mode = old.Mode().Perm()
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, cause(err))
	}
	defer func() {
		if err != nil {
			_ = f.Close() // closed already on some ways here; the first error is the one to tell
			_ = os.Remove(f.Name())
			err = fmt.Errorf("writing %s: %w", path, cause(err))
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
