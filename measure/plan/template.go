package plan

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"time"

	"go.yaml.in/yaml/v3"
)

//go:embed template.yaml
var template []byte

// Template returns a commented plan to fill in, of an invented trial sown on the date of sown. It loads without mistakes. A title that a
// plan cannot have is replaced.
func Template(title string, sown time.Time) []byte {
	node := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: title}
	title, ok := (&reader{}).Label(node, "title", 100)
	if !ok {
		title = "A trial"
	}
	var quoted bytes.Buffer // a JSON string is a YAML string too
	enc := json.NewEncoder(&quoted)
	enc.SetEscapeHTML(false)
	enc.Encode(title) // a string always encodes, into memory
	text := bytes.Replace(template, []byte("{{sown}}"), []byte(sown.Format(time.DateOnly)), 1)
	return bytes.Replace(text, []byte("{{title}}"), bytes.TrimSpace(quoted.Bytes()), 1)
}
