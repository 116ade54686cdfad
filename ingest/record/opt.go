package record

import (
	"database/sql/driver"
	"fmt"
	"strconv"
)

// Opt is a value that may be missing. Its zero value is missing.
type Opt[T float64 | int64 | Cents] struct {
	V  T
	OK bool
}

type (
	// Number is a measured quantity in the unit its column is named for.
	Number = Opt[float64]
	// Count is a whole number of things or of minutes.
	Count = Opt[int64]
	// Money is an exact amount in cents.
	Money = Opt[Cents]
)

// Some is the value v, present.
func Some[T float64 | int64 | Cents](v T) Opt[T] { return Opt[T]{v, true} }

// Or is the value, or otherwise where it is missing.
func (o Opt[T]) Or(otherwise T) T {
	if o.OK {
		return o.V
	}
	return otherwise
}

// Scan reads a database value; NULL is missing.
func (o *Opt[T]) Scan(src any) error {
	switch x := src.(type) {
	case nil:
		*o = Opt[T]{}
	case float64:
		*o = Some(T(x))
	case int64:
		*o = Some(T(x))
	case []byte:
		return o.scanText(string(x))
	case string:
		return o.scanText(x)
	default:
		return fmt.Errorf("cannot read a %T as a number", src)
	}
	return nil
}

func (o *Opt[T]) scanText(s string) error {
	switch any(o.V).(type) {
	case float64:
		x, err := strconv.ParseFloat(s, 64)
		*o = Some(T(x))
		return err
	default:
		x, err := strconv.ParseInt(s, 10, 64)
		*o = Some(T(x))
		return err
	}
}

// Value is the database value; missing is NULL.
func (o Opt[T]) Value() (driver.Value, error) {
	if !o.OK {
		return nil, nil
	}
	switch v := any(o.V).(type) {
	case float64:
		return v, nil
	case int64:
		return v, nil
	case Cents:
		return int64(v), nil
	}
	return nil, nil
}

// Flag is a yes, a no, or missing.
type Flag int8

// The two answers a [Flag] can hold; its zero value is missing.
const (
	Yes Flag = 1
	No  Flag = 2
)

// FlagOf is the flag of a yes or a no.
func FlagOf(yes bool) Flag {
	if yes {
		return Yes
	}
	return No
}

func (f Flag) String() string {
	switch f {
	case Yes:
		return "yes"
	case No:
		return "no"
	}
	return ""
}

// Scan reads a database value; NULL is missing.
func (f *Flag) Scan(src any) error {
	var text Opt[int64]
	if err := text.Scan(src); err != nil {
		return err
	}
	if *f = 0; text.OK {
		*f = FlagOf(text.V != 0)
	}
	return nil
}

// Value is the database value: 1, 0 or NULL.
func (f Flag) Value() (driver.Value, error) {
	switch f {
	case Yes:
		return int64(1), nil
	case No:
		return int64(0), nil
	}
	return nil, nil
}
