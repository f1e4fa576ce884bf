// Bundle makes the page's script from its TypeScript modules with esbuild's
// Go API, so that no Node is needed. Usage: bundle ENTRY OUTPUT.
package main

import (
	"fmt"
	"os"

	"github.com/evanw/esbuild/pkg/api"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: bundle ENTRY OUTPUT")
		os.Exit(2)
	}
	result := api.Build(api.BuildOptions{
		EntryPoints:       []string{os.Args[1]},
		Outfile:           os.Args[2],
		Bundle:            true,
		Write:             true,
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		Target:            api.ES2022,
		Format:            api.FormatIIFE,
		LegalComments:     api.LegalCommentsNone,
		Charset:           api.CharsetUTF8,
	})
	for _, m := range result.Errors {
		fmt.Fprintln(os.Stderr, m.Text)
	}
	if len(result.Errors) > 0 {
		os.Exit(1)
	}
}
