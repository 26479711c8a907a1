// Package deploy answers what carriers fit into blocks of spectrum: the bands of LTE
// and NR that contain a block, and the layouts of carriers inside its edges, exactly,
// in whole hertz.
//
// A channel lies with its whole width, guard bands included, inside the block in each
// direction that it has. Its centre is on the channel raster that goes with its
// subcarrier spacing; the uplink of a paired band is a transmit-receive separation
// away, or as wide as an asymmetric pair of the band allows; neighbours of one
// sub-block stand at the nominal spacing of contiguous carriers, and the edges of the
// aggregated channel lie inside the block as well; an NR carrier has an entry of the
// synchronisation raster for its SS/PBCH block.
package deploy
