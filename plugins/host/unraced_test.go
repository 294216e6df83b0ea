//go:build !race

package host

const raced = false
