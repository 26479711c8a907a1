// Package propagation answers how much of a signal is lost on its way, outdoors
// ([Path.Loss]) and into buildings and vehicles ([Entry.Loss]), and how far carriers
// reach ([Coverage.Reaches]).
package propagation
