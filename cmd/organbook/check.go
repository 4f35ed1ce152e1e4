package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/reach"
)

// playerFlags describe the player of a check.
type playerFlags struct {
	flags    *pflag.FlagSet
	hands    string
	leftFoot bool
	detached bool
	bridge   bool
	speed    float64
}

func (f *playerFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	f.flags = fs
	fs.StringVar(&f.hands, "hands", reach.DefaultProfile().Name, "size of the player's hands: "+profileNames())
	fs.BoolVar(&f.leftFoot, "left-foot", false, "the left foot plays alone; the right one stays on the expression pedal")
	fs.BoolVar(&f.detached, "detached", false, "notes need not be joined")
	fs.BoolVar(&f.bridge, "thumb-bridge", false, "a thumb may play the lower manual while its hand is on the upper one")
	fs.Float64Var(&f.speed, "speed", 1, "the player's speed as a part of a trained player's, 0.3 to 2")
}

// given reports whether any of the flags was.
func (f *playerFlags) given() bool {
	for _, name := range []string{"hands", "left-foot", "detached", "thumb-bridge", "speed"} {
		if f.flags.Changed(name) {
			return true
		}
	}
	return false
}

func profileNames() string {
	var names []string
	for _, p := range reach.Profiles() {
		names = append(names, p.Name)
	}
	return strings.Join(names, ", ")
}

func (f *playerFlags) profile() (reach.Profile, error) {
	p, ok := reach.ProfileByName(f.hands)
	if !ok {
		return p, fmt.Errorf("--hands %q: expected one of %s", f.hands, profileNames())
	}
	p.Speed, p.ThumbBridge = f.speed, f.bridge
	if f.leftFoot {
		p.Feet = reach.LeftOnly
	}
	if f.detached {
		p.Touch = reach.Detached
	}
	if err := p.Check(); err != nil {
		return p, fmt.Errorf("--speed: %w", err)
	}
	return p, nil
}

func newCheckCommand() *cobra.Command {
	var flags sharedFlags
	var player playerFlags
	cmd := &cobra.Command{
		Use:   "check IN",
		Short: "Report what two hands and two feet cannot play",
		Long: `Fingers and pedals the arrangement of IN, a chart or a MusicXML file, and
reports what the player cannot or should not be asked for: bar and beat, the
limb, what is asked, the limit, and ways out that have been tried. The exit code
is 0 when everything can be played, 1 when something is out of reach, 2 when IN
cannot be used.`,
		Example: `  organbook check tune.organbook --hands small
  organbook check tune.musicxml --plan shout --tempo 220 --json`,
		Args: between(1, 1, "check needs one chart or MusicXML file: organbook check IN"),
		RunE: func(cmd *cobra.Command, args []string) error { return runCheck(cmd, &flags, &player, args[0]) },
	}
	flags.register(cmd)
	flags.registerJSON(cmd)
	player.register(cmd)
	return cmd
}

func runCheck(cmd *cobra.Command, flags *sharedFlags, player *playerFlags, path string) error {
	profile, err := player.profile()
	if err != nil {
		return err
	}
	chart, options, first, end, err := flags.load(cmd, path)
	if err != nil {
		return err
	}
	options.Profile = &profile
	if player.given() { // what is asked for here comes before the chart's own
		if chart, err = (project.SetPlayer{}).Apply(chart); err != nil {
			return err
		}
	}
	report := arrange.Realise(chart, options).Reach().InBars(first, end)
	write := arrange.WriteReach
	if flags.json {
		write = arrange.WriteReachJSON
	}
	if err := write(cmd.OutOrStdout(), report); err != nil {
		return err
	}
	if !report.Playable() {
		return errOutOfReach
	}
	return nil
}
