//go:build !unix

package main

import (
	"testing"
	"time"
)

// worked is not told here.
func worked(testing.TB) time.Duration { return 0 }
