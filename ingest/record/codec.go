package record

import (
	"fmt"
	"strconv"
)

// FieldText writes a field, as [Record.Fields] points at it, in the canonical
// text that exports and the change log use and that [SetField] reads back
// exactly. Missing is "".
func FieldText(field any) string {
	if f, ok := field.(*string); ok {
		return *f
	}
	return string(AppendField(nil, field))
}

// AppendField appends what [FieldText] writes.
func AppendField(b []byte, field any) []byte {
	switch f := field.(type) {
	case *string:
		return append(b, *f...)
	case *Number:
		if f.OK {
			return strconv.AppendFloat(b, f.V, 'f', -1, 64)
		}
	case *Count:
		if f.OK {
			return strconv.AppendInt(b, f.V, 10)
		}
	case *Money:
		if f.OK {
			return f.V.append(b)
		}
	case *Date:
		if *f != 0 {
			return f.append(b)
		}
	case *Moment:
		return append(b, f.String()...)
	case *Flag:
		return append(b, f.String()...)
	default:
		panic(fmt.Sprintf("record: a field of type %T", field))
	}
	return b
}

// SetField reads canonical text, as [FieldText] writes it, into a field.
func SetField(field any, text string) (err error) {
	switch f := field.(type) {
	case *string:
		*f = text
	case *Number:
		if *f = (Number{}); text != "" {
			f.V, err = strconv.ParseFloat(text, 64)
			f.OK = err == nil
		}
	case *Count:
		if *f = (Count{}); text != "" {
			f.V, err = strconv.ParseInt(text, 10, 64)
			f.OK = err == nil
		}
	case *Money:
		if *f = (Money{}); text != "" {
			f.V, err = ParseCents(text)
			f.OK = err == nil
		}
	case *Date:
		if *f = 0; text != "" {
			*f, err = ParseDate(text)
		}
	case *Moment:
		if *f = 0; text != "" {
			*f, err = ParseMoment(text)
		}
	case *Flag:
		switch text {
		case "yes":
			*f = Yes
		case "no":
			*f = No
		case "":
			*f = 0
		default:
			err = fmt.Errorf("%q is neither yes nor no", text)
		}
	default:
		panic(fmt.Sprintf("record: a field of type %T", field))
	}
	return err
}

// IsMissing says whether the field holds no value.
func IsMissing(field any) bool {
	switch f := field.(type) {
	case *string:
		return *f == ""
	case *Number:
		return !f.OK
	case *Count:
		return !f.OK
	case *Money:
		return !f.OK
	case *Date:
		return *f == 0
	case *Moment:
		return *f == 0
	case *Flag:
		return *f == 0
	}
	panic(fmt.Sprintf("record: a field of type %T", field))
}

// Key is the text of the row's key columns, joined so that no two keys collide.
func Key(r Record) string { return KeyOf(r.Table(), r.Fields()) }

// KeyOf is [Key] for fields already at hand.
func KeyOf(t *Table, fields []any) string {
	key := ""
	for i, c := range t.Columns {
		if c.Key {
			key += FieldText(fields[i]) + "\x1f"
		}
	}
	return key
}

// Digest is a 64-bit FNV-1a hash of all the row's values, the same in every
// release: a column that came later takes part, under its name, only where it
// holds a value. The buffer is scratch space, returned for the next call.
func Digest(t *Table, fields []any, buf []byte) (uint64, []byte) {
	buf = buf[:0]
	for i, f := range fields {
		if c := &t.Columns[i]; c.Later {
			if IsMissing(f) {
				continue
			}
			buf = append(append(buf, c.Name...), 0x1e)
		}
		buf = append(AppendField(buf, f), 0x1f)
	}
	h := uint64(14695981039346656037)
	for _, c := range buf {
		h = (h ^ uint64(c)) * 1099511628211
	}
	return h, buf
}
