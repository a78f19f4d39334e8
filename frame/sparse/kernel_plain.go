//go:build !(goexperiment.simd && amd64)

package sparse

// arithmetic is the kernel in use.
var arithmetic = plain
