package project_test

import (
	"reflect"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// other returns a value of the type that differs from the zero value.
func other(t *testing.T, typ reflect.Type) reflect.Value {
	v := reflect.New(typ).Elem()
	switch x := v.Addr().Interface().(type) {
	case *theory.Key:
		*x = theory.MustParseKey("A minor")
		return v
	case *theory.Pitch:
		*x = theory.MustParsePitch("A4")
		return v
	case *theory.Chord:
		*x = theory.NoChord()
		return v
	}
	switch typ.Kind() {
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(3)
	case reflect.Uint8:
		v.SetUint(1)
	case reflect.Float64:
		v.SetFloat(0.7)
	case reflect.String:
		v.SetString("other")
	case reflect.Slice:
		v.Set(reflect.Append(v, other(t, typ.Elem())))
	case reflect.Array:
		v.Index(0).Set(other(t, typ.Elem()))
	case reflect.Struct:
		v.Field(v.NumField() - 1).Set(other(t, typ.Field(v.NumField()-1).Type))
	case reflect.Pointer:
		v.Set(reflect.New(typ.Elem()))
	default:
		t.Fatalf("no other value for %v", typ)
	}
	return v
}

// sees checks that equal tells values apart that differ in one field only,
// whichever it is. It fails for a field added later and forgotten.
func sees[T any](t *testing.T, equal func(a, b T) bool) {
	var zero T
	if !equal(zero, zero) {
		t.Fatalf("%T differs from itself", zero)
	}
	typ := reflect.TypeFor[T]()
	for i := range typ.NumField() {
		changed := zero
		field := reflect.ValueOf(&changed).Elem().Field(i)
		field.Set(other(t, field.Type()))
		if equal(zero, changed) || equal(changed, zero) {
			t.Errorf("%T: a change of %s goes unseen", zero, typ.Field(i).Name)
		}
	}
}

func TestEqualSeesEveryField(t *testing.T) {
	sees(t, func(a, b project.Chart) bool { return a.Equal(&b) })
	sees(t, project.Bar.Equal)
	sees(t, project.Pin.Equal)
	sees(t, project.ShelvedPin.Equal)
	sees(t, project.Passage.Equal)
}
