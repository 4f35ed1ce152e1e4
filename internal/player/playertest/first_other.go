//go:build !linux

package playertest

func goFirst() {}
