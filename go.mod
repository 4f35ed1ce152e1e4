module organbook

go 1.26.0

require (
	fyne.io/fyne/v2 v2.7.1 // indirect
	github.com/BurntSushi/toml v1.5.0 // indirect
	github.com/ebitengine/purego v0.4.1 // indirect
	github.com/hajimehoshi/oto/v2 v2.4.3 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/spf13/cobra v1.10.2 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	gitlab.com/gomidi/midi/v2 v2.3.18 // indirect
	golang.org/x/exp/typeparams v0.0.0-20231108232855-2478ac86f678 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/mod v0.41.0 // indirect
	golang.org/x/sync v0.24.0 // indirect
	golang.org/x/sys v0.49.0 // indirect
	golang.org/x/text v0.43.0 // indirect
	golang.org/x/tools v0.51.0 // indirect
	honnef.co/go/tools v0.8.2 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)

tool honnef.co/go/tools/cmd/staticcheck
