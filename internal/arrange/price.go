package arrange

// A price is a cost with its parts, so that the bench can say what a block is
// charged for. Invariant: total is the sum of the items.
type price struct {
	total int
	n     uint8
	items [maxCharges]charge
}

// maxCharges bounds the kinds of charge one block can meet at once; what would
// go beyond is added to the last.
const maxCharges = 7

// charge is one part of a price; amounts stay far below 32768.
type charge struct {
	kind   chargeKind
	amount int16
}

// chargeKind says what a charge is for; its sentence is in charges.go.
type chargeKind uint8

// pay returns a price of one charge.
func pay(kind chargeKind, amount int) price { return price{}.plus(kind, amount) }

// plus returns the price with one more charge; nothing is kept of a charge of
// 0.
func (p price) plus(kind chargeKind, amount int) price {
	if amount == 0 {
		return p
	}
	p.total += amount
	for i := range p.items[:p.n] {
		if p.items[i].kind == kind {
			p.items[i].amount += int16(amount)
			return p
		}
	}
	if p.n == maxCharges {
		p.items[maxCharges-1].amount += int16(amount)
		return p
	}
	p.items[p.n] = charge{kind, int16(amount)}
	p.n++
	return p
}

// and returns the sum of two prices.
func (p price) and(q price) price {
	for _, c := range q.items[:q.n] {
		p = p.plus(c.kind, int(c.amount))
	}
	return p
}
