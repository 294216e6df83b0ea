// Package peers compares canewright with what it is built on and with other
// engines of rules, in a module of its own, so that the program does not depend
// on what it is only compared with. README.md says how to run it.
package peers
