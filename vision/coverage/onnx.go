package coverage

import (
	"encoding/binary"
	"errors"
	"math"
)

// parameter is one array of an ONNX file: weights as out × in × height × width, or a bias.
type parameter struct {
	dims []int
	v    []float32
}

// Numbers of the fields that are read, and of the one type of data, as onnx.proto has them.
const (
	modelGraph        = 7
	graphInitializer  = 5
	tensorDims        = 1
	tensorDataType    = 2
	tensorName        = 8
	tensorRawData     = 9
	dataTypeFloat     = 1
	wireVarint        = 0
	wireFixed64       = 1
	wireLengthPrefix  = 2
	wireFixed32       = 5
	bitsOfWireType    = 3
	maskOfWireType    = 1<<bitsOfWireType - 1
	bytesOfFloat      = 4
	mostValuesInArray = 1 << 26
)

var errNotONNX = errors.New("the file is not an ONNX model of 32-bit floats")

// parameters returns the arrays of an ONNX model by name.
func parameters(onnx []byte) (map[string]parameter, error) {
	all := map[string]parameter{}
	err := fields(onnx, func(number int, _ uint64, graph []byte) error {
		if number != modelGraph {
			return nil
		}
		return fields(graph, func(number int, _ uint64, tensor []byte) error {
			if number != graphInitializer {
				return nil
			}
			name, p, err := readParameter(tensor)
			if p.v != nil {
				all[name] = p
			}
			return err
		})
	})
	return all, err
}

// readParameter reads a TensorProto. Arrays of other types than 32-bit floats, such as shapes, have no values.
func readParameter(tensor []byte) (name string, p parameter, err error) {
	var raw []byte
	kind, n := uint64(0), 1
	err = fields(tensor, func(number int, value uint64, body []byte) error {
		switch number {
		case tensorDims:
			if value > mostValuesInArray {
				return errNotONNX
			}
			p.dims, n = append(p.dims, int(value)), n*int(value)
		case tensorDataType:
			kind = value
		case tensorName:
			name = string(body)
		case tensorRawData:
			raw = body
		}
		if n > mostValuesInArray {
			return errNotONNX
		}
		return nil
	})
	if err != nil || kind != dataTypeFloat {
		return name, p, err
	}
	if len(raw) != bytesOfFloat*n {
		return name, p, errNotONNX
	}
	p.v = make([]float32, n)
	for i := range p.v {
		p.v[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[bytesOfFloat*i:]))
	}
	return name, p, nil
}

// fields calls visit for each field of a protocol buffer message (protobuf.dev, Encoding): value holds a number's, body a string's or a
// message's.
func fields(b []byte, visit func(number int, value uint64, body []byte) error) error {
	for len(b) > 0 {
		key, n := binary.Uvarint(b)
		if n <= 0 {
			return errNotONNX
		}
		b = b[n:]
		var value uint64
		var body []byte
		switch key & maskOfWireType {
		case wireVarint:
			if value, n = binary.Uvarint(b); n <= 0 {
				return errNotONNX
			}
		case wireFixed64:
			n = 8
		case wireFixed32:
			n = 4
		case wireLengthPrefix:
			size, k := binary.Uvarint(b)
			if k <= 0 || size > uint64(len(b)-k) {
				return errNotONNX
			}
			n, body = k+int(size), b[k:k+int(size)]
		default:
			return errNotONNX
		}
		if n > len(b) {
			return errNotONNX
		}
		if err := visit(int(key>>bitsOfWireType), value, body); err != nil {
			return err
		}
		b = b[n:]
	}
	return nil
}
