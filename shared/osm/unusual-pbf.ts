/**
 * Thrown where a file is written in a way that reading it in passes does not cater for (out of order, nodes one by
 * one, positions inside ways): it may be quite sound, and the one-pass decoder reads it.
 */
export class UnusualPbf extends Error {}
