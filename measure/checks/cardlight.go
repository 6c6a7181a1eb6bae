package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// The light on the tray is read off the card, so that both must lie in the same. Under a drawn shadow of a third, soft as a hand's, the card's paper
// changes by up to 1.35 times about the greys. Its ink sends back 0.035 of its paper's light everywhere; half as much again on it took a tenth off root areas in
// photos by another program (measured once, as what is said below of areas; no command prints it).
const (
	mostPaperChange = 1.4
	mostGlare       = 0.02 // of paper's light
	mostVeil        = 0.03 // the same, over all of the card
	darkUnderVeil   = 0.5  // of a veil: what lies under it cannot be darker than the veil

	// Gaps and shade make a hundredth of any tray darker than a hundredth of paper, the card's black is 0.035: a tray that is lighter everywhere lies under
	// something.
	mostDark = 0.05 // the camera's curve undone

	// Nothing on a tray is lighter than paper; by so much more light on the far side of a tray that leans to a window it looks so.
	mostOverPaper = 1.3

	// With three times the glare or veil, or twice paper's light, root areas were off by a quarter and more; leaf areas by less than a tenth. Since a veil over
	// all greys is taken away like haze, one of half as much leaves areas off by less than a tenth.
	worstGlare, worstVeil, worstOverPaper = 3 * mostGlare, 3 * mostVeil, 2.0

	// The tag is of the same paper and lies a hand's breadth off. Over some 300 drawn photos, in uneven light and shadows, its paper is 0.67 to 1.46 times as light as the card's
	// and its colours are within 2.5 % of it. Beside a card on a screen that was half as light as paper, root areas came out 11 % too large; each per cent of red or blue
	// moves yellowing and browning (measured once; no command prints it).
	leastTagLight, mostTagLight = 0.55, 1.8
	mostTagColour               = 0.08
)

// cardLight doubts a card in a light of its own: half in a shadow, under a reflection, or in a shadow that does not lie on the tray.
func cardLight(e Photo) *reading.Concern {
	if has(e.Reading, reading.GreysUnreadable) {
		return nil // that follows from it
	}
	on := e.Scene.OnCard
	tray := e.extent()
	c := &reading.Concern{Kind: reading.LightOnCard}
	roots := e.Scene.Face == card.Roots
	switch {
	case on.Paper > mostPaperChange:
		c.Words = fmt.Sprintf("part of the card is in shadow, dirty or covered by a finger: its white paper is %.2f times as bright in one place as in another (limit %.1f)", on.Paper, mostPaperChange)
		c.Remedy = "wipe the card, keep shadows and fingers off it, and take the photo again"
	case on.Glare > mostGlare:
		c.Words = fmt.Sprintf("the card has glare on it: its darkest grey reflects %.0f %% of white more than its black square (limit %.0f %%)", 100*on.Glare, 100*mostGlare)
		c.Remedy, c.Bias, c.Fatal = matteCard, tooSmall, roots && on.Glare > worstGlare
	case on.Veil > mostVeil && tray.Dark < darkUnderVeil*on.Veil:
		c.Words = fmt.Sprintf("the whole card has glare on it: its black reflects %.0f %% of white more than printed black does, but the tray, with places as dark as %.1f %%, has no glare", 100*on.Veil, 100*tray.Dark)
		c.Remedy, c.Bias, c.Fatal = matteCard, tooSmall, roots && on.Veil > worstVeil
	case tray.Straight > mostDark:
		c.Kind = reading.VeilOverTray
		c.Words = fmt.Sprintf("the tray looks hazy: its darkest places reflect %.0f %% of white (limit %.0f %%)", 100*tray.Straight, 100*mostDark)
		c.Remedy = "remove any dome, film or net, let fog and drops dry, wipe the lens, keep lamp reflections off the tray, and take the photo again"
	case tray.Light > mostOverPaper && !has(e.Reading, reading.SomethingOnTheTray):
		c.Words = fmt.Sprintf("the card is in shadow but the tray is not: parts of the tray are %.1f times as bright as white paper on the card (limit %.1f)", tray.Light, mostOverPaper)
		c.Remedy, c.Fatal = "step out of the light, so that card and tray are in the same light, and take the photo again", roots && tray.Light > worstOverPaper
		if roots {
			c.Bias = "its root areas would be too large"
		}
	default:
		return tagInOtherLight(e)
	}
	return c
}

// tagInOtherLight doubts a card whose paper is not lit as the tag's is: a card on a screen, or one of another paper.
func tagInOtherLight(e Photo) *reading.Concern {
	times, ok := e.Scene.TagPaper()
	if !ok || e.Scene.Light.Coloured {
		return nil
	}
	red, light, blue := float64(times[0]/times[1]), float64(times[1]), float64(times[2]/times[1])
	colour := max(red, 1/red, blue, 1/blue) - 1
	c := &reading.Concern{Kind: reading.LightOnCard,
		Remedy: "use a printed card, not a screen, on the same white paper and in the same light as the tag, and take the photo again"}
	switch {
	case light < leastTagLight || light > mostTagLight:
		c.Words = fmt.Sprintf("card and tray are in different light: the tag’s paper is %.2f times as bright as the card’s (limits %.2f and %.1f)", light, leastTagLight, mostTagLight)
	case colour > mostTagColour:
		c.Words = fmt.Sprintf("card and tag have different whites: their colours differ by %.0f %% (limit %.0f %%)", 100*colour, 100*mostTagColour)
	default:
		return nil
	}
	return c
}

const (
	matteCard = "use a card on matte paper, not laminated, turn the card or the lamp to avoid glare, and take the photo again"
	tooSmall  = "its areas would be too small"
)
