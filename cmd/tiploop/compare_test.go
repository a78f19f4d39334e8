package main

import (
	"context"
	"io"
	"testing"
)

// BenchmarkCompareSample is the sample's two options, from file to table.
func BenchmarkCompareSample(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if code := runWith(context.Background(), []string{"compare", sample}, streams{out: io.Discard,
			err: io.Discard}); code != answered {
			b.Fatalf("exit code %d", code)
		}
	}
}
