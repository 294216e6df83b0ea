package cli

import "github.com/spf13/cobra"

func newReviewCmd(c *commander) *cobra.Command { return &cobra.Command{Use: "review"} }
