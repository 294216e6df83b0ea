//go:build !linux

package conform

import (
	"errors"
	"time"
)

var errOnlyLinux = errors.New("only Linux tells")

func running(int) (left, known bool)      { return false, false }
func groupMemory(int) (int64, bool)       { return 0, false }
func groupWork(int) (time.Duration, bool) { return 0, false }
func listeners(int) ([]string, error)     { return nil, errOnlyLinux }
