// Package site answers what a site can carry in the busy hour ([Plan]): peaks, means and
// cell edge by sector, the backhaul it needs, the users it serves, and what a change of
// carriers, ports or sectors would bring.
package site
