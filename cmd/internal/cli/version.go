package cli

import (
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is the release this source leads to.
const version = "0.1.0"

func newVersionCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "version", Short: "Print the version", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			revision := ""
			if info, ok := debug.ReadBuildInfo(); ok {
				for _, s := range info.Settings {
					if s.Key == "vcs.revision" {
						revision = s.Value
					}
				}
			}
			if c.json {
				return c.printJSON(map[string]string{"version": version, "revision": revision, "go": runtime.Version(), "system": runtime.GOOS + "/" + runtime.GOARCH})
			}
			c.printf("canewright %s (%s, %s/%s)\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return nil
		},
	}
	c.jsonFlag(cmd)
	return cmd
}
