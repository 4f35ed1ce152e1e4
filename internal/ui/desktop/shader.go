//go:build (!gles && !arm && !arm64) || darwin

package desktop

import (
	"crypto/sha256"
	"encoding/hex"
	_ "unsafe" // for linkname
)

// toolkitsShader is the toolkit's source of the shader that fills the pixels of
// every picture and text. The build fails where the toolkit has none of this
// name any more.
//
//go:linkname toolkitsShader fyne.io/fyne/v2/internal/painter/gl.shaderSimpleFrag
var toolkitsShader []byte

// knownShader is the sum of the source that plainShader does the work of.
const knownShader = "6640b8d1cb07bf9d11e47ef632534de22f4279c541e05695134df29e22181bbe"

// plainShader fills a pixel from a picture. The toolkit's own also rounds the
// corners of images, which this program has none of, and leaves out pixels that
// are all but transparent, which blending does as well. Both are worked out for
// every pixel: drawn by software, that is a third of a frame.
const plainShader = `#version 110

uniform sampler2D tex;

varying vec2 fragTexCoord;
varying float fragAlpha;

void main() {
    gl_FragColor = texture2D(tex, fragTexCoord) * fragAlpha;
}
`

// plainPictures has pictures drawn without what they do not need. It must be
// called before the first window is shown. With a toolkit whose shader is
// another one it leaves that as it is.
func plainPictures() {
	if sum := sha256.Sum256(toolkitsShader); hex.EncodeToString(sum[:]) == knownShader {
		toolkitsShader = []byte(plainShader)
	}
}
