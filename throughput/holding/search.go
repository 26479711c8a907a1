package holding

import (
	"cmp"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

// Best is the best that a phone can aggregate of a network for an aim.
type Best struct {
	Technology Technology
	Aim        Aim
	// Configuration is the listed configuration; a single carrier has none, as Name
	// tells.
	Configuration ca.Configuration
	Name          ca.Name
	// Carriers are in the order of the name, those on which the UE transmits first in
	// each technology; Places are the same carriers with their frequencies.
	Carriers ca.Combination
	Places   []deploy.Carrier
	// Blocks holds the number of each carrier's block in Network.Blocks, from 0.
	Blocks []int
	// Value is what was found of the aim, in bit/s or in hertz, Bound what no possible
	// combination exceeds. They are equal where the search was carried to its end.
	Value, Bound int64

	weight int64
}

// Proven tells that there is nothing better.
func (b *Best) Proven() bool { return b.Value == b.Bound }

// maxSteps bounds the steps of a search through one configuration. It is reached only
// where many blocks of a band stand against sets that refuse most of their widths.
const maxSteps = 100_000

// Best finds the best of a network; false if the technology offers nothing that the
// phone takes.
func (n *Network) Best(t Technology, a Aim) (Best, bool) {
	key := bestKey{t, a}
	b, ok := n.best[key]
	if !ok {
		b = n.find(t, a, -1)
		n.best[key] = b
	}
	return b, len(b.Carriers) > 0
}

// above finds the best over all technologies if it has more than a weight.
func (n *Network) above(a Aim, weight int64) (best Best, ok bool) {
	for _, t := range Technologies() {
		if b := n.find(t, a, weight); len(b.Carriers) > 0 {
			best, ok, weight = b, true, b.weight
		}
	}
	return best, ok
}

// task is a configuration, with the uplink that is looked at for aims of the uplink,
// and what it can have at most.
type task struct {
	plan   *plan
	uplink *uplink
	modes  []mode
	bound  int64
}

// find finds the best that has more than a weight.
func (n *Network) find(t Technology, a Aim, weight int64) Best {
	s := search{network: n, aim: a, best: Best{Technology: t, Aim: a, weight: weight}}
	tasks := slices.DeleteFunc(n.tasks(t, a), func(x task) bool { return x.bound <= weight })
	order := make([]int32, len(tasks))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(i, j int32) int {
		x, y := &tasks[i], &tasks[j]
		if x.bound != y.bound {
			return cmp.Compare(y.bound, x.bound)
		}
		return cmp.Or(cmp.Compare(x.plan.carriers, y.plan.carriers), cmp.Compare(x.plan.span, y.plan.span), cmp.Compare(i, j))
	})
	beyond := int64(-1)
	for _, i := range order {
		x := &tasks[i]
		if x.bound <= s.best.weight {
			break
		}
		if x.uplink != nil && !x.uplink.allowed(x.plan) {
			continue
		}
		if !s.run(x) {
			beyond = max(beyond, x.bound)
		}
	}
	s.best.Bound = s.best.Value
	if beyond > s.best.weight {
		s.best.Bound = max(s.best.Value, a.value(beyond))
	}
	return s.best
}

// value takes the aim out of a weight, in bit/s or hertz.
func (a Aim) value(weight int64) int64 {
	switch a {
	case DownlinkRate:
		return weight >> 24
	case DownlinkWidth:
		return (weight >> 36) * int64(bands.KHz)
	case UplinkRate:
		return weight >> 25
	}
	return (weight >> 34) * int64(bands.KHz)
}

// tasks lists what there is to look at: each configuration, for aims of the uplink with
// each of its uplinks.
func (n *Network) tasks(t Technology, a Aim) []task {
	plans := n.plansOf(t)
	list := make([]task, 0, len(plans))
	for _, p := range plans {
		if a.Direction() == bands.Downlink {
			list = n.addTask(list, task{plan: p}, a)
			continue
		}
		ups := n.finder.uplinksOf(p)
		for k := range ups {
			if modes, ok := ups[k].modes(p); ok {
				list = n.addTask(list, task{plan: p, uplink: &ups[k], modes: modes}, a)
			}
		}
	}
	return list
}

// addTask adds a configuration with what it can have at most: of every slot the best
// option, but of slots that have only one block between them no more than it can hold.
func (n *Network) addTask(list []task, x task, a Aim) []task {
	var sum, dense [maxCarriers]float64 // by slot, the first of those of a block for all
	var only [maxCarriers]int
	for i := range x.plan.slots {
		options := n.slot(x.plan, i, a, x.mode(i))
		if len(options.list) == 0 {
			return list
		}
		only[i] = options.only
		at := i
		for k := 0; k < i && only[i] > 0; k++ {
			if only[k] == only[i] {
				at = k
				break
			}
		}
		sum[at] += float64(options.list[0].weight)
		dense[at] = max(dense[at], options.densest)
		x.bound += options.list[0].weight
	}
	var bound float64
	for i := range x.plan.slots {
		if b := only[i]; b > 0 && sum[i] > 0 {
			sum[i] = min(sum[i], dense[i]*float64(n.Blocks[b-1].Downlink.Width()+2*n.finder.limits.Tolerance))
		}
		bound += sum[i]
	}
	x.bound = min(x.bound, int64(bound*(1+1e-12))+1)
	return append(list, x)
}

// mode is how slot i is used in the uplink that is looked at.
func (x *task) mode(i int) mode {
	if x.modes == nil {
		return silent
	}
	return x.modes[i]
}

// search goes through the ways to fill the slots of configurations.
type search struct {
	network *Network
	aim     Aim
	best    Best

	task   *task
	lists  [][]option
	rest   []int64 // the most that slots from i on can add
	chosen []*option
	index  []int             // of the chosen in their lists
	used   []bands.Frequency // by block
	known  map[string]bool   // by widths: whether a set admits them
	key    []byte
	steps  int
}

// run looks through one configuration; false if it had to stop early.
func (s *search) run(x *task) bool {
	k := len(x.plan.slots)
	s.task, s.steps = x, 0
	s.lists, s.rest = make([][]option, k), make([]int64, k+1)
	for i := k - 1; i >= 0; i-- {
		s.lists[i] = s.admitted(s.network.options(x.plan, i, s.aim, x.mode(i)), x.plan.slots[i].Band)
		if len(s.lists[i]) == 0 {
			return true
		}
		s.rest[i] = s.rest[i+1] + s.lists[i][0].weight
	}
	s.chosen, s.index = make([]*option, k), make([]int, k)
	s.used = make([]bands.Frequency, len(s.network.Blocks))
	clear(s.known)
	s.fill(0, 0, use{})
	return s.steps < maxSteps
}

// admitted leaves out the options with widths that no set of the configuration has.
func (s *search) admitted(list []option, id bands.ID) []option {
	if s.task.plan.isSingle() {
		return list
	}
	widths, ok := s.network.finder.widthsIn(s.task.plan.configuration, id)
	if !ok {
		return list
	}
	fits := func(o *option) bool {
		return !slices.ContainsFunc(o.run, func(w bands.Frequency) bool { return !slices.Contains(widths, w) })
	}
	for i := range list {
		if fits(&list[i]) {
			continue
		}
		kept := slices.Clone(list[:i])
		for k := i + 1; k < len(list); k++ {
			if fits(&list[k]) {
				kept = append(kept, list[k])
			}
		}
		return kept
	}
	return list
}

// fill chooses an option for slot i and those behind it.
func (s *search) fill(i int, weight int64, u use) {
	if i == len(s.lists) {
		s.finish(weight)
		return
	}
	x := s.task
	first := 0
	if i > 0 && x.plan.slots[i] == x.plan.slots[i-1] && x.mode(i) == x.mode(i-1) {
		first = s.index[i-1] // slots alike are filled in order
	}
	list := s.lists[i]
	for k := first; k < len(list); k++ {
		o := &list[k]
		if s.steps++; weight+o.weight+s.rest[i+1] <= s.best.weight || s.steps >= maxSteps {
			return
		}
		block := o.room.block
		if s.used[block]+o.extent > s.network.Blocks[block].Downlink.Width()+2*o.room.Tolerance || !s.joins(i, o) {
			continue
		}
		with := u
		with.add(o.room.Band.ID.RAT, len(o.run), o.width)
		if !s.network.finder.bounds.hold(&with) {
			continue
		}
		s.used[block] += o.extent
		s.chosen[i], s.index[i] = o, k
		s.fill(i+1, weight+o.weight, with)
		s.used[block] -= o.extent
	}
}

// joins tells whether a sub-block that is contiguous with one of the other technology is
// in the block of that.
func (s *search) joins(i int, o *option) bool {
	if !s.task.plan.slots[i].Joined {
		return true
	}
	for k, other := range s.chosen[:i] {
		if s.task.plan.slots[k].Joined {
			return other.room.block == o.room.block
		}
	}
	return true
}

// finish looks whether what fills the slots holds, and keeps it.
func (s *search) finish(weight int64) {
	p := s.task.plan
	if !s.widthsHold() {
		return
	}
	c, ok := s.combination(false)
	if ok {
		ok = s.settle(&c)
	}
	if !ok && p.joined { // the other technology below
		if c, ok = s.combination(true); ok {
			ok = s.settle(&c)
		}
	}
	if !ok {
		return
	}
	s.best.Name = p.name
	if s.best.Configuration = p.configuration; s.best.Name.IsZero() {
		s.best.Name = p.configuration.Name()
	}
	s.best.Carriers, s.best.Places, s.best.Blocks = c.carriers, c.places, c.blocks
	s.best.weight, s.best.Value = weight, s.aim.value(weight)
}

// settle chooses the uplink of a combination and tells whether the standard has it.
func (s *search) settle(c *combination) bool {
	p, up := s.task.plan, s.task.uplink
	if up == nil {
		if up = s.network.finder.bestUplink(p, c); up == nil {
			return false
		}
	}
	return c.transmit(p, up) && p.admits(c)
}

// widthsHold tells whether a set of the configuration admits the widths that fill the
// slots, wherever they lie.
func (s *search) widthsHold() bool {
	p := s.task.plan
	if p.isSingle() {
		return true
	}
	key := s.key[:0]
	for _, o := range s.chosen {
		for _, w := range o.run {
			key = strconv.AppendInt(key, int64(w/(100*bands.KHz)), 36)
			key = append(key, ' ')
		}
	}
	s.key = key
	if ok, known := s.known[string(key)]; known {
		return ok
	}
	if p.components == nil {
		p.components = p.configuration.Name().Components()
	}
	w := ca.Widths{Components: make([][]ca.BlockWidths, len(p.components))}
	used := make([]bool, len(s.chosen))
	for i, x := range p.components {
		for _, class := range x.Blocks {
			for k, slot := range p.slots {
				if slot.Band == x.Band && slot.Class == class && !used[k] {
					used[k] = true
					w.Components[i] = append(w.Components[i], ca.BlockWidths{Carriers: s.chosen[k].run, Ordered: true})
					break
				}
			}
		}
	}
	a, err := p.configuration.Admit(w)
	ok := err == nil && a.Admitted()
	if s.known == nil {
		s.known = make(map[string]bool)
	}
	s.known[string(key)] = ok
	return ok
}
