package host

// The tests that use them are not run on Windows.
func limitMemory()  {}
func closeSockets() {}
