//go:build !race

package conform

const patience = 1
