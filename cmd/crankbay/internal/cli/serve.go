//go:build !js

package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"crankbay/web/site"
)

func addPlatform(root *cobra.Command) { root.AddCommand(newServe()) }

func newServe() *cobra.Command {
	var dir, addr string
	var asJSON bool
	c := &cobra.Command{
		Use:   "serve",
		Short: "Serve the built site on this machine",
		Long: `Serve the built site on this machine until interrupted.

Only addresses of this machine are accepted: the site needs no server, so to
publish it copy the folder to any static host.`,
		Example: `  crankbay serve
  crankbay serve --site web/dist --addr 127.0.0.1:9000
  crankbay serve --addr 127.0.0.1:0    # any free port`,
		Args: args(0, 0, "no names, only flags"),
		RunE: func(c *cobra.Command, _ []string) error {
			return serve(c, dir, addr, asJSON)
		},
	}
	c.Flags().StringVar(&dir, "site", filepath.FromSlash("web/dist"), "folder of the built site")
	c.Flags().StringVar(&addr, "addr", "127.0.0.1:8080", "address to listen on, on this machine")
	c.Flags().BoolVar(&asJSON, "json", false, "print the address as JSON, then serve")
	return c
}

func serve(c *cobra.Command, dir, addr string, asJSON bool) error {
	if err := site.Check(os.DirFS(dir)); err != nil {
		return fmt.Errorf("%s holds no built site (%w); 'make site' builds it, --site names another folder", dir, err)
	}
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return usagef("serve: --addr %q: want an address and a port, as in 127.0.0.1:8080", addr)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return usagef("serve: --addr %q: only addresses of this machine are served, as in 127.0.0.1:8080", addr)
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w", addr, err)
	}
	if err := sayAddress(c.OutOrStdout(), l.Addr(), asJSON); err != nil {
		return errors.Join(err, l.Close())
	}
	return serveUntilInterrupt(c.Context(), l, site.Handler(os.DirFS(dir)))
}

func sayAddress(w io.Writer, at net.Addr, asJSON bool) error {
	url := fmt.Sprintf("http://%s/", at)
	if asJSON {
		return writeJSON(w, struct {
			URL string `json:"url"`
		}{url})
	}
	_, err := fmt.Fprintf(w, "Crankbay is at %s  (Ctrl-C stops it)\n", url)
	return err
}

func serveUntilInterrupt(ctx context.Context, l net.Listener, h http.Handler) error {
	if ctx == nil {
		ctx = context.Background()
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	srv := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	quit, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if err := srv.Shutdown(quit); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}
