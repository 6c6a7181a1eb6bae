package plan

import (
	"bytes"
	_ "embed"
	"encoding/json"

	"go.yaml.in/yaml/v3"
)

//go:embed template.yaml
var template []byte

// Template returns a commented plan to fill in, of an invented trial. It loads without mistakes. A title that a plan
// cannot have is replaced.
func Template(title string) []byte {
	node := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: title}
	title, ok := (&reader{}).Label(node, "title", 100)
	if !ok {
		title = "A trial"
	}
	var quoted bytes.Buffer // a JSON string is a YAML string too
	enc := json.NewEncoder(&quoted)
	enc.SetEscapeHTML(false)
	enc.Encode(title) // a string always encodes, into memory
	return bytes.Replace(template, []byte("{{title}}"), bytes.TrimSpace(quoted.Bytes()), 1)
}
