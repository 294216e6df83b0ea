// Package examples tests the plugins that are written to be learned from; each
// has a folder of its own. They are started as a stranger's plugin is.
package examples
