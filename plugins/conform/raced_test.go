//go:build race

package conform

// A raced program starts slowly, and waits for a second on its way out.
const patience = 5
