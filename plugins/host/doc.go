// Package host finds an instrument's plugin, starts it, asks it for its
// dimension set, judges the answer and stops it again. With plugins/sdk it is
// the only importer of go-plugin.
//
// A plugin is a stranger. It gets a process group of its own, a working folder
// that is thrown away, a handful of environment variables, and no standard
// input; what it writes on its standard error is kept up to a limit; every
// call has a deadline and every answer a size limit. What it answers is used
// only after dimension.Set.Check found nothing. If it dies, hangs or lies, the
// error names it and says what happened, and no process stays behind.
//
// It does not outlive its host either, even one that was killed: a guard, a
// small shell beside it, then ends it with all it has started and removes its
// folder and socket (guard_unix.go). On Linux the kernel ends the plugin itself
// as well (the thread that started it is kept for as long as it runs, because
// that is the thread the kernel watches); and plugins/sdk looks for its parent.
//
// Bundled instruments are the one binary started again with proto.ServeArg:
// the same code and the same wire as a stranger's plugin. Several of them that
// are wanted at once share a process; a stranger's always has its own.
package host
