package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// What was changed on the disk meanwhile is not written over.
func TestWriteBackRefuses(t *testing.T) {
	path, text := starterFile(t)
	require.NoError(t, writeBack(path, []byte(text), []byte("machine: other")))
	err := writeBack(path, []byte(text), []byte("machine: third"))
	require.ErrorContains(t, err, "changed meanwhile")
	mark := markOf(filepath.Dir(path), filepath.Base(path))
	require.NoError(t, os.WriteFile(mark, nil, 0o600))
	err = writeBack(path, []byte("machine: other"), []byte("machine: third"))
	require.ErrorContains(t, err, "somebody else is writing")
	require.ErrorContains(t, err, filepath.Base(mark), "what to remove")
	old := time.Now().Add(-2 * markFor)
	require.NoError(t, os.Chtimes(mark, old, old))
	require.NoError(t, writeBack(path, []byte("machine: other"), []byte("machine: third")), "who put up the mark is gone")
	require.NoError(t, os.Remove(path))
	require.ErrorContains(t, writeBack(path, []byte("machine: third"), nil), "cannot be read")
	now, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Empty(t, now)
}

// A file that may not be written is not replaced by one that may.
func TestWriteBackLeavesReadOnlyFiles(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("this user may write everything")
	}
	path, text := starterFile(t)
	require.NoError(t, os.Chmod(path, 0o444))
	require.ErrorContains(t, writeBack(path, []byte(text), []byte("machine: other")), "cannot be written")
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, text, string(now))
	left, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, left, 1)
}

// Nothing that stands where a mark belongs holds up writing for ever, and a name may be as long as names can be.
func TestWriteBackPastOldMarks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links and their times are made in other ways there")
	}
	far := time.Now().Add(-2 * markFor)
	longName := strings.Repeat("n", 255)
	for name, put := range map[string]func(mark string) error{
		"in the future": func(mark string) error {
			late := time.Now().Add(100 * markFor)
			return errors.Join(os.WriteFile(mark, nil, 0o600), os.Chtimes(mark, late, late))
		},
		"a folder": func(mark string) error {
			return errors.Join(os.Mkdir(mark, 0o700), os.WriteFile(filepath.Join(mark, "x"), nil, 0o600), os.Chtimes(mark, far, far))
		},
		"an old one, and an old one after it": func(mark string) error {
			err := errors.Join(os.WriteFile(mark, nil, 0o600), os.Chtimes(mark, far, far))
			_, second := markAt(filepath.Dir(mark), longName) // which is not taken down
			left, _ := filepath.Glob(filepath.Join(filepath.Dir(mark), writingMark+"*"))
			for _, one := range left {
				err = errors.Join(err, os.Chtimes(one, far, far))
			}
			return errors.Join(err, second)
		},
		"a link to nothing": func(mark string) error {
			if err := os.Symlink("nowhere", mark); err != nil {
				return err
			}
			return exec.Command("touch", "-h", "-t", "200001010000", mark).Run() // the time of the link itself
		},
	} {
		path := filepath.Join(t.TempDir(), longName)
		require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
		require.NoError(t, put(markOf(filepath.Dir(path), filepath.Base(path))), name)
		require.NoError(t, writeBack(path, []byte("old"), []byte("new")), name)
		require.NoError(t, writeBack(path, []byte("new"), []byte("newer")), name)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, "newer", string(now), name)
	}
}

// Of several who find an old mark at once one has the file to himself.
func TestOldMarkIsTakenOverOnce(t *testing.T) {
	dir := t.TempDir()
	far := time.Now().Add(-2 * markFor)
	var at, most, times atomic.Int64
	for range 100 {
		mark := markOf(dir, "mill.yaml")
		require.NoError(t, os.WriteFile(mark, nil, 0o600))
		require.NoError(t, os.Chtimes(mark, far, far))
		var wait sync.WaitGroup
		for range 4 {
			wait.Go(func() {
				unmark, err := markAt(dir, "mill.yaml")
				if err != nil {
					return
				}
				if at.Add(1) > 1 {
					most.Add(1)
				}
				times.Add(1)
				runtime.Gosched()
				at.Add(-1)
				unmark()
			})
		}
		wait.Wait()
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Empty(t, left)
	}
	require.Zero(t, most.Load(), "two had it at once")
	require.NotZero(t, times.Load())
}

// Two programs that write at once lose nothing: each write is in the file or was refused.
func TestTwoWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "count.yaml")
	require.NoError(t, os.WriteFile(path, []byte{}, 0o600))
	done := make(chan int, 2)
	for range 2 {
		go func() {
			wrote := 0
			for range 50 {
				now, err := os.ReadFile(path)
				if err == nil && writeBack(path, now, append(now, 'x')) == nil {
					wrote++
				}
			}
			done <- wrote
		}()
	}
	wrote := <-done + <-done
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Len(t, now, wrote)
	require.NotZero(t, wrote)
}
