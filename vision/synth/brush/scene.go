package brush

// scene is a drawing in the making, with everything that its layers share.
type scene struct {
	dice
	*painting
	*textures
	lamp     lamp
	layout   *layout
	recipe   recipe
	ground   *ground
	edge     []float32 // distance inside the tray's holes, texels
	look     *look
	wet      float64 // 0 dusty dry, 0.4 moist, 1 dripping
	ordinary bool
	perlites int // grains of perlite
}

// layer is one thing to be laid on the medium; those of greater depth come later.
type layer struct {
	depth float64
	paint func()
}
