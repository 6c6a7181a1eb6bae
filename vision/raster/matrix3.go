package raster

// Matrix3 is a 3 × 3 matrix, row by row.
type Matrix3 [9]float64

// Apply maps (x, y, 1) and divides by the third coordinate.
func (m *Matrix3) Apply(x, y float64) (float64, float64) {
	w := m[6]*x + m[7]*y + m[8]
	return (m[0]*x + m[1]*y + m[2]) / w, (m[3]*x + m[4]*y + m[5]) / w
}

func (m *Matrix3) Det() float64 {
	return m[0]*(m[4]*m[8]-m[5]*m[7]) - m[1]*(m[3]*m[8]-m[5]*m[6]) + m[2]*(m[3]*m[7]-m[4]*m[6])
}

func (m *Matrix3) Times(n *Matrix3) (r Matrix3) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				r[3*i+j] += m[3*i+k] * n[3*k+j]
			}
		}
	}
	return r
}

// Inverse by cofactors; the caller knows that m is regular.
func (m *Matrix3) Inverse() (r Matrix3) {
	d := m.Det()
	r = Matrix3{
		m[4]*m[8] - m[5]*m[7], m[2]*m[7] - m[1]*m[8], m[1]*m[5] - m[2]*m[4],
		m[5]*m[6] - m[3]*m[8], m[0]*m[8] - m[2]*m[6], m[2]*m[3] - m[0]*m[5],
		m[3]*m[7] - m[4]*m[6], m[1]*m[6] - m[0]*m[7], m[0]*m[4] - m[1]*m[3],
	}
	for i := range r {
		r[i] /= d
	}
	return r
}
