// What the system around Wine makes ready for the cases, as they read it.

/** Paths as Windows writes them. */
export type Given = {
  /** The recordings of the project, replayed as JSON by the same version of Node on this system. */
  replayed: string
  /** A served bench behind COM ports, with the part and the rig that lead there. */
  ports: { manometer: string; part: string; rig: string }
}
