package synth

import (
	"encoding/json"
	"fmt"
	"math"
	"os"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
)

// Truth is what a picture shows, known from how it was drawn. Areas are mm² on the plane of what is measured.
type Truth struct {
	Photo        string                `json:"photo"`
	Face         string                `json:"face"`
	Tray         int                   `json:"tray"`
	Date         string                `json:"date,omitempty"`
	LeafHeight   float64               `json:"leaf_height_mm"`
	PrintScale   float64               `json:"print_scale"`
	Orientation  int                   `json:"exif_orientation"`
	Camera       CameraTruth           `json:"camera"`
	Card         CardTruth             `json:"card_mm"`
	Corners      map[string][2]float64 `json:"tray_corners_px"`        // in the upright picture
	StoredCorner map[string][2]float64 `json:"tray_corners_px_stored"` // in the file as it lies
	Totals       CellTruth             `json:"totals"`
	Present      int                   `json:"present"`
	Cells        map[string]*CellTruth `json:"cells"`
	Lines        []LineTruth           `json:"lines,omitempty"`

	// Markers are the corners of the card's four markers in the upright picture, clockwise from each one's top left.
	Markers [4][4][2]float64 `json:"marker_corners_px"`
}

// CameraTruth is the camera for the stored pixels: x_pixel = K (R x_world + t), world as in the package comment.
type CameraTruth struct {
	Width    int           `json:"width"`
	Height   int           `json:"height"`
	K        [3][3]float64 `json:"K"`
	R        [3][3]float64 `json:"R"`
	T        [3]float64    `json:"t"`
	K1       float64       `json:"k1"`
	HeightMM float64       `json:"height_mm"`
}

// CardTruth is how the card lies off the exact dock.
type CardTruth struct {
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	AngleDeg float64 `json:"angle_deg"`
}

// LineTruth is one line of a lines scene.
type LineTruth struct {
	WidthMM  float64 `json:"width_mm"`
	AreaMM2  float64 `json:"area_mm2"`
	LengthMM float64 `json:"length_mm"`
}

// CellTruth is what one cell shows. On the roots face Present is a plug; on the shoots face it is a visible plant. The
// chlorotic area's own colour has CIELAB h_ab < 105° and C* > 15; it holds the necrotic area.
type CellTruth struct {
	Face        card.Face
	Present     bool
	PlugPresent bool

	PlugAreaMM2, RootAreaMM2, BrownRootAreaMM2, RootLengthMM     float64
	LeafAreaMM2, ChloroticAreaMM2, NecroticAreaMM2, StalkAreaMM2 float64

	total bool
}

type rootsJSON struct {
	Present   *bool   `json:"present,omitempty"`
	PlugArea  float64 `json:"plug_area_mm2"`
	RootArea  float64 `json:"root_area_mm2"`
	BrownArea float64 `json:"brown_root_area_mm2"`
	Length    float64 `json:"root_length_mm"`
}

type shootsJSON struct {
	Present   *bool   `json:"present,omitempty"`
	Plug      *bool   `json:"plug_present,omitempty"`
	LeafArea  float64 `json:"leaf_area_mm2"`
	Chlorotic float64 `json:"chlorotic_area_mm2"`
	Necrotic  float64 `json:"necrotic_area_mm2"`
	Stalk     float64 `json:"stalk_area_mm2"`
}

// MarshalJSON writes the face's own quantities only, to 1/1000 mm².
func (c CellTruth) MarshalJSON() ([]byte, error) {
	present, plug := &c.Present, &c.PlugPresent
	if c.total {
		present, plug = nil, nil
	}
	if c.Face == card.Shoots {
		return json.Marshal(shootsJSON{present, plug, milli(c.LeafAreaMM2), milli(c.ChloroticAreaMM2), milli(c.NecroticAreaMM2), milli(c.StalkAreaMM2)})
	}
	return json.Marshal(rootsJSON{present, milli(c.PlugAreaMM2), milli(c.RootAreaMM2), milli(c.BrownRootAreaMM2), milli(c.RootLengthMM)})
}

func milli(v float64) float64 { return math.Round(v*1000) / 1000 }

// Write stores t as JSON.
func (t Truth) Write(path string) error {
	data, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := os.WriteFile(path, append(data, '\n'), 0o644); err != nil {
		return fmt.Errorf("write the truth: %w", err)
	}
	return nil
}

func newTruth(s Spec, v *camera.View) Truth {
	t := Truth{
		Face: s.Face.String(), Tray: s.Number, LeafHeight: s.LeafHeight, PrintScale: s.PrintScale, Orientation: 1,
		Camera: CameraTruth{
			Width: v.Width, Height: v.Height, K: [3][3]float64{{v.F, 0, v.Cx}, {0, v.F, v.Cy}, {0, 0, 1}}, R: v.R,
			K1: v.K1, HeightMM: -v.C[2],
		},
		Card: CardTruth{s.CardX, s.CardY, s.CardTurn}, Corners: map[string][2]float64{}, Cells: map[string]*CellTruth{},
	}
	for i := range 3 {
		t.Camera.T[i] = -(v.R[i][0]*v.C[0] + v.R[i][1]*v.C[1] + v.R[i][2]*v.C[2])
	}
	last := cellName(s.Tray.Rows-1, s.Tray.Columns-1)
	for name, at := range map[string][2]float64{
		"A1": {0, 0}, cellName(0, s.Tray.Columns-1): {s.Tray.LengthMM, 0},
		last: {s.Tray.LengthMM, s.Tray.WidthMM}, cellName(s.Tray.Rows-1, 0): {0, s.Tray.WidthMM},
	} {
		p := s.Face.FromTray(at[0], at[1])
		x, y := v.Project(p.X, p.Y, 0)
		t.Corners[name] = [2]float64{x, y}
	}
	t.StoredCorner = t.Corners
	place := cardPlace(s)
	for i, m := range card.Markers() {
		for j, p := range m.Corners() {
			x, y := place(p.X, p.Y)
			px, py := v.Project(x, y, 0)
			t.Markers[i][j] = [2]float64{px, py}
		}
	}
	for _, l := range s.Lines {
		t.Lines = append(t.Lines, LineTruth{l.WidthMM, l.AreaMM2(), l.LengthMM()})
	}
	return t
}

// sum fills the totals from the cells, in the cells' order so that the last digits are always the same.
func (t *Truth) sum(face card.Face, order []string) {
	t.Totals = CellTruth{Face: face, total: true}
	a := &t.Totals
	for _, name := range order {
		c := t.Cells[name]
		if c.Present {
			t.Present++
		}
		a.PlugAreaMM2 += c.PlugAreaMM2
		a.RootAreaMM2 += c.RootAreaMM2
		a.BrownRootAreaMM2 += c.BrownRootAreaMM2
		a.RootLengthMM += c.RootLengthMM
		a.LeafAreaMM2 += c.LeafAreaMM2
		a.ChloroticAreaMM2 += c.ChloroticAreaMM2
		a.NecroticAreaMM2 += c.NecroticAreaMM2
		a.StalkAreaMM2 += c.StalkAreaMM2
	}
}

// stored returns t for a file whose pixels are turned so that the EXIF orientation (1, 3, 6 or 8) sets them upright.
func (t Truth) stored(orientation int) Truth {
	quarter := map[int]int{1: 0, 8: 1, 3: 2, 6: 3}[orientation] // clockwise turns from upright to stored
	t.Orientation = orientation
	for range quarter {
		c := &t.Camera
		high := float64(c.Height - 1)
		corners := map[string][2]float64{}
		for name, p := range t.StoredCorner {
			corners[name] = [2]float64{high - p[1], p[0]}
		}
		t.StoredCorner = corners
		c.Width, c.Height = c.Height, c.Width
		c.K[0][2], c.K[1][2] = high-c.K[1][2], c.K[0][2]
		for j := range 3 {
			c.R[0][j], c.R[1][j] = -c.R[1][j], c.R[0][j]
		}
		c.T[0], c.T[1] = -c.T[1], c.T[0]
	}
	return t
}
