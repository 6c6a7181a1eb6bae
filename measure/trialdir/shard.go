package trialdir

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
)

// Shard is one of several parts of a trial's photos, each of which may be measured by a process or a computer of its own.
// The zero value is all photos.
type Shard struct {
	Part int // 1 to Of
	Of   int // 0: all photos
}

// mostShards is more than a trial has photos.
const mostShards = 10000

// ParseShard reads "2/8": the second of eight parts.
func ParseShard(text string) (Shard, error) {
	part, of, ok := strings.Cut(text, "/")
	var s Shard
	var err1, err2 error
	s.Part, err1 = strconv.Atoi(part)
	s.Of, err2 = strconv.Atoi(of)
	if !ok || err1 != nil || err2 != nil || s.Of < 1 || s.Of > mostShards || s.Part < 1 || s.Part > s.Of {
		return Shard{}, fmt.Errorf("%q is not a part: give, for example, 2/8 for the second of eight parts", text)
	}
	return s, nil
}

func (s Shard) String() string { return fmt.Sprintf("%d/%d", s.Part, s.Of) }

// Has reports whether the photo of the given SHA-256 belongs to this part. A photo's bytes alone decide, so that every
// computer decides alike, that equal photos meet in one part, and that no reading is of two parts. What cannot be read has
// no SHA-256 and goes by its name.
func (s Shard) Has(sha, name string) bool {
	if s.Of == 0 {
		return true
	}
	sum := sha256.Sum256([]byte(sha))
	if sha == "" {
		sum = sha256.Sum256([]byte(name))
	}
	return binary.BigEndian.Uint64(sum[:])%uint64(s.Of) == uint64(s.Part-1)
}
