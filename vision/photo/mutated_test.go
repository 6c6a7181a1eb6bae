package photo

import (
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var (
	mutations = flag.Int("mutations", 300, "how many damaged files TestDamagedFiles tries")
	mutated   = flag.String("mutated", "", "photos, as a pattern, that TestDamagedFiles damages beside its own")
)

// damage returns a copy of raw with one thing wrong that copying, storing or malice does to files.
func damage(raw, other []byte, r *rand.Rand) (bad []byte, how string) {
	bad = append([]byte{}, raw...)
	at := func() int { return r.IntN(len(bad)) }
	piece := func() (from, to int) {
		from = at()
		return from, min(len(bad), from+1+r.IntN(1+min(len(bad)/4, 8192)))
	}
	switch r.IntN(9) {
	case 0:
		for range 1 + r.IntN(8) {
			bad[at()] ^= 1 << r.IntN(8)
		}
		return bad, "bits turned"
	case 1:
		for range 1 + r.IntN(20) {
			bad[r.IntN(min(len(bad), 512))] = byte(r.Uint32())
		}
		return bad, "header scrambled"
	case 2:
		from, to := piece()
		clear(bad[from:to])
		return bad, "piece zeroed"
	case 3:
		from, to := piece()
		return append(bad[:from], bad[to:]...), "piece gone"
	case 4:
		from, to := piece()
		return append(bad[:to:to], append(append([]byte{}, bad[from:to]...), bad[to:]...)...), "piece doubled"
	case 5:
		return bad[:at()], "cut"
	case 6:
		from, to := piece()
		for i := from; i < to; i++ {
			bad[i] = byte(r.Uint32())
		}
		return bad, "piece scrambled"
	case 7:
		i := at()
		return append(bad[:i:i], other[min(i, len(other)):]...), "two files joined"
	}
	i := r.IntN(min(len(bad), 2048)) // a size or an offset that leads nowhere
	for k := i; k < min(i+4, len(bad)); k++ {
		bad[k] = [2]byte{0xff, 0x7f}[r.IntN(2)]
	}
	return bad, "number blown up"
}

// Whatever happens to a file, it is refused with a remedy or gives a picture of the size it says; nothing ends the program.
// `make damage` tries thousands, also of whole photos.
func TestDamagedFiles(t *testing.T) {
	files := map[string][]byte{"JPEG": tinyJPEG(), "noisy JPEG": noisyJPEG(t, 320, 240, 20), "PNG": tinyPNG(), "TIFF": plainTIFF(),
		"oriented JPEG": jpegWithOrientation(tinyJPEG(), 6), "oriented PNG": pngWithChunk(tinyPNG(), "eXIf", exifBlock(8))}
	names, err := filepath.Glob("testdata/*.[hw]e*")
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob(*mutated)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(names, more...) {
		if files[name], err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	var order []string
	for name := range files {
		order = append(order, name)
	}
	slices.Sort(order)
	r := rand.New(rand.NewPCG(uint64(*mutations), 7))
	count := map[string]int{}
	before := runtime.NumGoroutine()
	for i := range *mutations {
		name := order[i%len(order)]
		bad, how := damage(files[name], files[order[r.IntN(len(order))]], r)
		p, err := Decode(bad)
		count["tried"]++
		if err == nil {
			count["taken"]++
			if p.Width < 1 || p.Height < 1 || len(p.BGR) != 3*p.Width*p.Height {
				t.Errorf("%s, %s: %d × %d with %d bytes", name, how, p.Width, p.Height, len(p.BGR))
			}
			p.Close()
			continue
		}
		var refusal *Refusal
		if !errors.As(err, &refusal) || refusal.Remedy == "" || refusal.Words == "" {
			t.Errorf("%s, %s: %v is no refusal", name, how, err)
			continue
		}
		count[string(refusal.Kind)]++
	}
	if left := runtime.NumGoroutine() - before; left > 2 {
		t.Errorf("%d decoders are still at work", left)
	}
	t.Log(fmt.Sprint(count), memoryWords())
}

// memoryWords says what the process takes where the system tells.
func memoryWords() string {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return ""
	}
	var words []string
	for line := range strings.Lines(string(status)) {
		if strings.HasPrefix(line, "VmRSS") || strings.HasPrefix(line, "VmHWM") {
			words = append(words, strings.Fields(line)...)
		}
	}
	return strings.Join(words, " ")
}
