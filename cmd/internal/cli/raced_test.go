//go:build race

package cli_test

// raced: everything takes ten times as long.
const raced = true
