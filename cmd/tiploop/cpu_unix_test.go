//go:build unix

package main

import (
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// worked is the processor time that the tests have taken so far: it does not count what other programs take.
func worked(t testing.TB) time.Duration {
	var u syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
