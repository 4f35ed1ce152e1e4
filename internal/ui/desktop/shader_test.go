//go:build (!gles && !arm && !arm64) || darwin

package desktop

import "testing"

// TestPlainPicturesKnowTheShader fails when the toolkit comes with another shader
// for pictures: read it, see that the plain one still does its work, and take over
// its sum. It also fails where the linker gives us a variable of our own, which
// would be empty.
func TestPlainPicturesKnowTheShader(t *testing.T) {
	before := string(toolkitsShader)
	defer func() { toolkitsShader = []byte(before) }()
	if plainPictures(); string(toolkitsShader) != plainShader {
		t.Errorf("the toolkit's shader is another one and stays:\n%s", before)
	}
	toolkitsShader = []byte(before + "\n")
	if plainPictures(); string(toolkitsShader) != before+"\n" {
		t.Error("a shader that nobody has read was replaced")
	}
}
