//go:build !js

package e2e

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// memory is what all processes of the browser hold now [bytes]: the proportional set
// size that Linux keeps for each, where a page of memory used by two counts half.
func memory(t *testing.T, p *page) int {
	t.Helper()
	all, err := chromedp.CallBrowser(p.ctx, systeminfo.GetProcessInfo, struct{}{})
	require.NoError(t, err)
	require.NotEmpty(t, all.ProcessInfo)
	sum := 0
	for _, one := range all.ProcessInfo {
		sum += proportional(t, one.ID)
	}
	t.Logf("the browser holds %d MB", sum>>20)
	return sum
}

// proportional is one process's part of the memory [bytes].
func proportional(t *testing.T, id int64) int {
	t.Helper()
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/smaps_rollup", id))
	require.NoError(t, err)
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		if rest, ok := strings.CutPrefix(lines.Text(), "Pss:"); ok {
			var kb int
			_, err := fmt.Sscanf(rest, "%d kB", &kb)
			require.NoError(t, err)
			return kb << 10
		}
	}
	t.Fatalf("no proportional set size of process %d", id)
	return 0
}
