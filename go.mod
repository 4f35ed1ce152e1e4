module organbook

go 1.26.0

require (
	fyne.io/fyne/v2 v2.7.1 // indirect
	github.com/ebitengine/purego v0.4.1 // indirect
	github.com/hajimehoshi/oto/v2 v2.4.3 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/spf13/cobra v1.10.2 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	gitlab.com/gomidi/midi/v2 v2.3.18 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/sys v0.49.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
