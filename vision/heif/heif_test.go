package heif

import (
	"os"
	"runtime"
	"testing"
)

func opened(t *testing.T) *File {
	t.Helper()
	if err := Available(); err != nil {
		t.Skipf("%v", err)
	}
	raw, err := os.ReadFile("../photo/testdata/field.heic")
	if err != nil {
		t.Fatal(err)
	}
	f, err := Open(raw)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestWhatIsNoHEICIsAnError(t *testing.T) {
	for name, raw := range map[string][]byte{"nothing": nil, "one byte": {0}, "words": []byte("the photo follows by post"), "a head alone": []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic")} {
		if f, err := Open(raw); err == nil {
			f.Close()
			t.Errorf("%s: opened", name)
		}
	}
}

func TestTheBufferMustFit(t *testing.T) {
	f := opened(t)
	defer f.Close()
	if f.Width != 96 || f.Height != 64 {
		t.Fatalf("%d × %d", f.Width, f.Height)
	}
	for _, size := range []int{0, 3*96*64 - 1, 3*96*64 + 1} {
		if err := f.DecodeBGR(make([]byte, size)); err == nil {
			t.Errorf("%d bytes: taken", size)
		}
	}
	if err := f.DecodeBGR(make([]byte, 3*96*64)); err != nil {
		t.Error(err)
	}
}

func TestAClosedFileDoesNothing(t *testing.T) {
	f := opened(t)
	f.Close()
	f.Close()
	if err := f.DecodeBGR(make([]byte, 3*96*64)); err == nil {
		t.Error("decoded after Close")
	}
	if f.ICC() != nil {
		t.Error("a profile after Close")
	}
}

// The library keeps the address of the file's bytes: they must stay where they are while rubbish is collected.
func TestManyFilesAndCollections(t *testing.T) {
	for range 50 {
		f := opened(t)
		runtime.GC()
		if err := f.DecodeBGR(make([]byte, 3*f.Width*f.Height)); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}
