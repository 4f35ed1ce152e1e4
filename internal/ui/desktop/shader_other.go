//go:build (gles || arm || arm64) && !darwin

package desktop

// plainPictures leaves the shaders of OpenGL ES alone: what draws with them is no
// software.
func plainPictures() {}
