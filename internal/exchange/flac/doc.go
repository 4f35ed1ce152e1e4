// Package flac writes sound as FLAC files (RFC 9639), 24 bits a sample: the
// same samples as package wav, without loss, in about half the room.
//
// Each block of 4096 frames is predicted by the best of the five fixed
// polynomials, for the two channels as they are or as their middle and their
// difference, whichever needs fewer bits; what is left is written in Rice
// codes whose parameter changes within the block.
package flac
