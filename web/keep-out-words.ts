/** Words about stretches where nothing may be mounted. */
export const keepOutWords = {
  keepOuts: {
    title: 'Keep-outs',
    empty:
      'Mark where nothing may be mounted: niches, doors, fans, signs, joints. Beacons go to the nearest free place.',
    count: (count: number) => (count === 0 ? 'none' : String(count)),
    stretch: (from: string, to: string) => `${from} to ${to}`,
    walls: { left: 'left wall', right: 'right wall', both: 'both walls' },
    wallsShort: { left: 'Left', right: 'Right', both: 'Both' },
    length: (lengthM: string) => `${lengthM} m`,
    show: (stretch: string) => `Show the keep-out ${stretch} on the map`,
    remove: 'Remove',
    removeLong: (stretch: string) => `Remove the keep-out ${stretch}`,
    form: 'New keep-out',
    link: 'Link',
    from: 'From',
    to: 'To',
    wall: 'Wall',
    reason: 'Reason',
    reasonHint: 'Niche, door, fan …',
    add: 'Add keep-out',
    clear: 'Clear',
    hint: (lengthM: string) => `Metres or km+m, up to ${lengthM} m`,
    here: 'Keep-out here',
    hereNote: 'Marks a keep-out around this beacon, 2 m each way; look it over, then add it.',
    faults: {
      missing: 'Give a chainage.',
      unreadable: 'Metres or km+m, as 340 or 0+340.',
      range: (lengthM: string) => `At most ${lengthM} m.`,
      order: 'Must lie past the start.',
    },
  },
};
