package midi

import "sync"

// debts are the keys that may be down on an organ outside though nobody holds
// them here: those that were played on a port which then failed or was pulled
// out, so that nobody knows whether their release arrived. They belong to the
// port's name, and outlive each of its senders. Whoever opens the port again
// pays them.
type debts struct {
	mu   sync.Mutex
	keys [16][128]bool
	any  bool
}

// add owes the release of keys.
func (d *debts) add(keys *[16][128]bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for channel := range keys {
		for key, owed := range keys[channel] {
			if owed {
				d.keys[channel][key], d.any = true, true
			}
		}
	}
}

// owed reports whether there are any.
func (d *debts) owed() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.any
}

// take hands the debts over to one who pays them.
func (d *debts) take() (keys [16][128]bool, any bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	keys, any = d.keys, d.any
	d.keys, d.any = [16][128]bool{}, false
	return keys, any
}
