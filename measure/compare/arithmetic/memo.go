package arithmetic

// Memo keeps critical values, which many comparisons share and which take a while to work out.
type Memo map[string]float64

func (m Memo) Get(key string, work func() float64) float64 {
	v, ok := m[key]
	if !ok {
		v = work()
		m[key] = v
	}
	return v
}
