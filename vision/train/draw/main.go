// Command draw writes close-ups for training the coverage networks: a file of N drawings of one kind and style, seeds FIRST,
// FIRST+1, …. It is built without cgo, so that its binary runs on any computer of its processor.
//
// A file is one line of JSON, which says what follows, and then the planes of each drawing, one byte a texel:
//
//	light and own colour  255·∛(v/1.7), 1 for paper, so that dark medium has as many codes as pale root
//	shares                255·v
//	line                  128·v·(texels per mm): 128 where a root crosses a texel straight
//	plant                 as it is
//
// Codes are rounded up or down by chance in proportion to what lies between, so that sums over many texels come out right.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"

	"traygauge/vision/synth/closeup"
)

type meta struct {
	Seed   uint64       `json:"seed"`
	Bases  [][2]float64 `json:"bases,omitempty"`  // leaves: texels
	Middle *[2]float64  `json:"middle,omitempty"` // leaves: of a cell, texels
	Pitch  float64      `json:"pitch,omitempty"`  // leaves: texels
}

type header struct {
	Kind     string   `json:"kind"`
	Style    string   `json:"style"`
	Side     int      `json:"side"`
	PerMM    float64  `json:"per_mm"`
	Planes   []string `json:"planes"`
	Drawings []meta   `json:"drawings"`
}

func main() {
	kind := flag.String("kind", "roots", "roots or leaves")
	style := flag.String("style", "", "who draws")
	first := flag.Uint64("first", 1, "seed of the first drawing")
	n := flag.Int("n", 16, "drawings")
	out := flag.String("out", "", "file to write")
	flag.Parse()
	if err := write(*kind, *style, *first, *n, *out); err != nil {
		fmt.Fprintln(os.Stderr, "draw:", err)
		os.Exit(1)
	}
}

func write(kind, style string, first uint64, n int, out string) error {
	if n < 1 || out == "" {
		return errors.New("give -n 1 or more and -out FILE")
	}
	h := header{Kind: kind, Style: style}
	var planes []byte
	for i := range n {
		seed := first + uint64(i)
		r := rand.New(rand.NewPCG(seed, 0x706c7567))
		p := packer{chance: rand.New(rand.NewPCG(seed, 1))}
		m := meta{Seed: seed}
		switch kind {
		case "roots":
			draw, ok := rootStyles[style]
			if !ok {
				return fmt.Errorf("no style of roots is called %q: there are %v", style, names(rootStyles))
			}
			d := draw(r)
			h.Side, h.PerMM = d.Side, d.PerMM
			p.roots(d)
		case "leaves":
			draw, ok := leafStyles[style]
			if !ok {
				return fmt.Errorf("no style of leaves is called %q: there are %v", style, names(leafStyles))
			}
			d := draw(r)
			h.Side, h.PerMM = d.Side, d.PerMM
			m.Bases, m.Middle, m.Pitch = d.Bases, &d.Middle, d.Pitch
			p.leaves(d)
		default:
			return fmt.Errorf("%q is not a kind of drawing: give roots or leaves", kind)
		}
		h.Planes = p.names
		h.Drawings = append(h.Drawings, m)
		planes = append(planes, p.bytes...)
	}
	return save(out, h, planes)
}

// save writes the file whole under another name first, for whoever waits for it.
func save(out string, h header, planes []byte) error {
	f, err := os.Create(out + ".part")
	if err != nil {
		return fmt.Errorf("write drawings: %w", err)
	}
	w := bufio.NewWriterSize(f, 1<<20)
	head, err := json.Marshal(h)
	if err == nil {
		_, err = w.Write(append(head, '\n'))
	}
	if err == nil {
		_, err = w.Write(planes)
	}
	if err == nil {
		err = w.Flush()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("write drawings: %w", err)
	}
	return os.Rename(out+".part", out)
}

// packer codes a drawing's planes.
type packer struct {
	chance *rand.Rand
	names  []string
	bytes  []byte
}

func (p *packer) roots(d *closeup.Roots) {
	p.colour("light", d.Light)
	p.share("white", d.White, 255)
	p.share("brown", d.Brown, 255)
	p.share("line", d.Line, 128*d.PerMM)
	p.share("plug", d.Plug, 255)
}

func (p *packer) leaves(d *closeup.Leaves) {
	p.colour("light", d.Light)
	p.colour("own", d.Own)
	p.share("leaf", d.Leaf, 255)
	p.share("dead", d.Dead, 255)
	p.names = append(p.names, "plant")
	p.bytes = append(p.bytes, d.Plant...)
}

func (p *packer) colour(name string, c []closeup.RGB) {
	for k, suffix := range []string{"_r", "_g", "_b"} {
		p.names = append(p.names, name+suffix)
		for i := range c {
			p.put(255 * math.Cbrt(float64(c[i][k])/brightest))
		}
	}
}

// brightest is the light of the greatest code.
const brightest = 1.7

func (p *packer) share(name string, v []float32, scale float64) {
	p.names = append(p.names, name)
	for _, x := range v {
		p.put(scale * float64(x))
	}
}

func (p *packer) put(v float64) {
	p.bytes = append(p.bytes, uint8(min(255, max(0, v+p.chance.Float64()))))
}
