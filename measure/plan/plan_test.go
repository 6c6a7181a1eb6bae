package plan

import (
	"testing"
	"time"
)

// sownIn returns a plan sown on a date in a zone.
func sownIn(t *testing.T, zone string, y int, m time.Month, d int) *Plan {
	t.Helper()
	loc, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	return &Plan{Zone: loc, Sown: firstMoment(y, m, d, loc)}
}

func TestDayOf(t *testing.T) {
	for _, c := range []struct {
		zone  string
		y     int
		m     time.Month
		d     int
		taken string
		day   int
	}{
		{"Europe/Lisbon", 2026, 3, 2, "2026-03-02T00:00:00Z", 0}, // Lisbon keeps UTC in winter
		{"Europe/Lisbon", 2026, 3, 2, "2026-03-01T23:59:59Z", -1},
		{"Europe/Lisbon", 2026, 3, 2, "2026-03-09T23:59:59Z", 7},
		// Clocks go forward on 29 March 2026, a day of 23 hours: 23:30 UTC is then 00:30 of the next day.
		{"Europe/Lisbon", 2026, 3, 28, "2026-03-28T23:30:00Z", 0},
		{"Europe/Lisbon", 2026, 3, 28, "2026-03-29T22:30:00Z", 1},
		{"Europe/Lisbon", 2026, 3, 28, "2026-03-29T23:30:00Z", 2},
		// And back on 25 October, a day of 25 hours.
		{"Europe/Lisbon", 2026, 10, 24, "2026-10-25T23:59:00Z", 1},
		{"Europe/Lisbon", 2026, 10, 24, "2026-10-26T00:00:00Z", 2},
		// The same moment is another day elsewhere: 20:00 UTC is 09:00 of the next day at UTC+13, and 13:00 at UTC−7.
		{"Pacific/Tongatapu", 2026, 3, 2, "2026-03-04T20:00:00Z", 3},
		{"America/Phoenix", 2026, 3, 2, "2026-03-04T20:00:00Z", 2},
		{"America/Phoenix", 2026, 3, 2, "2026-03-05T09:00:00+13:00", 2},
		// In São Paulo 4 November 2018 began at 01:00, which is 03:00 UTC.
		{"America/Sao_Paulo", 2018, 11, 4, "2018-11-04T03:00:00Z", 0},
		{"America/Sao_Paulo", 2018, 11, 4, "2018-11-04T02:59:59Z", -1},
		{"America/Sao_Paulo", 2018, 11, 3, "2018-11-04T03:00:00Z", 1},
		{"UTC", 2026, 3, 2, "2027-03-02T12:00:00Z", 365},
	} {
		p := sownIn(t, c.zone, c.y, c.m, c.d)
		at, err := time.Parse(time.RFC3339, c.taken)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.DayOf(at); got != c.day {
			t.Errorf("sown %d-%d-%d in %s: %s is day %d, want %d", c.y, c.m, c.d, c.zone, c.taken, got, c.day)
		}
	}
}

// The date of a day is that day, on every day of a year with two changes of the clocks.
func TestDateOfIsDayOf(t *testing.T) {
	for _, zone := range []string{"Europe/Lisbon", "America/Chicago", "America/Sao_Paulo", "Asia/Beirut", "UTC"} {
		p := sownIn(t, zone, 2018, 1, 1)
		for day := range 366 {
			if got := p.DayOf(p.DateOf(day)); got != day {
				t.Fatalf("%s: day %d begins at %v, which is day %d", zone, day, p.DateOf(day), got)
			}
			if got := p.DayOf(p.DateOf(day).Add(-time.Second)); got != day-1 {
				t.Fatalf("%s: a second before day %d is day %d", zone, day, got)
			}
		}
	}
}

func TestPlugNames(t *testing.T) {
	p := &Plan{Tray: TrayShape{Rows: 5, Columns: 10}}
	names := p.PlugNames()
	if len(names) != 50 || names[0] != "A1" || names[9] != "A10" || names[10] != "B1" || names[49] != "E10" {
		t.Errorf("%v", names)
	}
	if got := PlugName(25, 0); got != "Z1" {
		t.Errorf("row 26 is %s", got)
	}
}
