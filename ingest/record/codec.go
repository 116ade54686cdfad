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
func Key(r Record) (key string) {
	fields := r.Fields()
	for i, c := range r.Table().Columns {
		if c.Key {
			key += FieldText(fields[i]) + "\x1f"
		}
	}
	return key
}

// CopyField gives a field, as [Record.Fields] points at it, the value of
// another of its type.
func CopyField(to, from any) {
	switch f := from.(type) {
	case *string:
		*to.(*string) = *f
	case *Number:
		*to.(*Number) = *f
	case *Count:
		*to.(*Count) = *f
	case *Money:
		*to.(*Money) = *f
	case *Date:
		*to.(*Date) = *f
	case *Moment:
		*to.(*Moment) = *f
	case *Flag:
		*to.(*Flag) = *f
	}
}

// ClearField makes a field, as [Record.Fields] points at it, missing. Each empty
// cell of a file comes here: reflection would take six times as long.
func ClearField(field any) {
	switch f := field.(type) {
	case *string:
		*f = ""
	case *Number:
		*f = Number{}
	case *Count:
		*f = Count{}
	case *Money:
		*f = Money{}
	case *Date:
		*f = 0
	case *Moment:
		*f = 0
	case *Flag:
		*f = 0
	}
}
