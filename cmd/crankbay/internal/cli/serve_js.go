package cli

import "github.com/spf13/cobra"

// addPlatform adds nothing here: a program inside a JavaScript engine cannot
// listen on an address.
func addPlatform(*cobra.Command) {}
