package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"tiploop/report/live"
	"tiploop/report/paper"
)

// writeBack puts a text in place of the one that the file is believed to hold: whole, with its permissions, or not at
// all. It refuses when the file holds something else by now, when it may not be written, or when somebody else is at it.
func writeBack(path string, believed, text []byte) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	unmark, err := mark(path)
	if err != nil {
		return err
	}
	defer unmark()
	now := (&watchedFile{path: path}).read()
	if now.gone != nil {
		return live.Refusal(fmt.Sprintf("the file cannot be read: %v", now.gone))
	}
	if !bytes.Equal(now.text, believed) {
		return live.Refusal("the file has changed meanwhile; look at it, and write again")
	}
	if err := writable(path); err != nil {
		return live.Refusal(fmt.Sprintf("the file cannot be written: %v", plainCause(err)))
	}
	if err := paper.WriteFileWhole(path, text); err != nil {
		return live.Refusal(fmt.Sprintf("the file cannot be written: %v", plainCause(err)))
	}
	return nil
}

// writable tells whether the file itself may be written. Another one could be put in its place even if it may not.
func writable(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

// Who writes into a file puts a mark up beside it, so that two do not write at once; when its time is further
// from now than this, before or behind, whoever put it up is gone.
const (
	writingMark = ".tiploop-writing-"
	markFor     = 10 * time.Second
)

// markOf is where the mark of something stands that is told from all else beside it by a name, which may be as long as
// names can be.
func markOf(dir, name string) string {
	sum := sha256.Sum256([]byte(name))
	return filepath.Join(dir, fmt.Sprintf("%s%x", writingMark, sum[:8]))
}

// mark puts up the mark of a file; unmark takes it down. One that was left behind stays where it is until whoever comes
// after it is done, and has a mark of its own that tells who that is: if it were taken down first, a second one that had
// found it old could take down the mark of the first.
func mark(path string) (unmark func(), err error) {
	return markAt(filepath.Dir(path), filepath.Base(path))
}

// markAt is mark for what has that name in a folder.
func markAt(dir, name string) (unmark func(), err error) {
	at := markOf(dir, name)
	f, err := os.OpenFile(at, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err == nil {
		_ = f.Close() // nothing was written into it
		return func() { _ = os.Remove(at) }, nil
	}
	if !errors.Is(err, fs.ErrExist) {
		return nil, live.Refusal(fmt.Sprintf("nothing can be written beside the file: %v", plainCause(err)))
	}
	busy := live.Refusal(fmt.Sprintf("somebody else is writing into the file; try again, and if nobody is, remove %s beside it",
		filepath.Base(at)))
	old, err := os.Lstat(at)
	if err != nil || time.Since(old.ModTime()).Abs() <= markFor {
		return nil, busy
	}
	stands := func() bool {
		now, err := os.Lstat(at)
		return err == nil && os.SameFile(old, now) && now.ModTime().Equal(old.ModTime())
	}
	after, err := markAt(dir, fmt.Sprintf("%s after %d", filepath.Base(at), old.ModTime().UnixNano()))
	if err != nil {
		return nil, err
	}
	if !stands() {
		after() // somebody came after it already
		return nil, busy
	}
	return func() {
		if stands() {
			_ = os.Remove(at) // a folder with something in it stays, and is in nobody's way
		}
		after()
	}, nil
}
