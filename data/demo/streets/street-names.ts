import type { Random } from '../line/random.ts';

export type Theme = 'old' | 'new' | 'port' | 'leaf' | 'shore' | 'mill';

const FIRST: Record<Theme, string> = {
  old: 'Ropewalk Tallow Lantern Oakum Cooper Chandler Salter Needle Candle Cobble Thimble Bellows Pewter Vintner Fletcher Glover Tanner Wicket Postern Gatehouse Cistern Almoner Minster Garth Pottage Skein Lorimer Farrier Mercer Quill Sexton Saddler Horner Crier Turnpike Dovecote Oven Maltster',
  new: 'Meridian Equinox Solstice Zenith Parallax Azimuth Transit Almanac Sextant Perigee Apogee Nadir Ecliptic Horizon Tropic Aurora Corona Umbra Vernal Comet Sidereal Astrolabe Orrery Gnomon Declination Altair Vega Rigel Antares Spica Mira Lyra Cygnus Corvus Draco Hydra Pavo Libra',
  port: 'Anchor Capstan Bollard Hawser Gantry Derrick Fender Keel Ballast Bilge Cargo Stevedore Tug Winch Mooring Pallet Customs Bonded Slipway Graving Drydock Cable Rivet Caulker Lighter Manifest',
  leaf: 'Alder Bracken Sorrel Larch Heron Linnet Plover Rowan Hazel Juniper Tansy Yarrow Campion Fescue Sedge Teasel Foxglove Clover Hawthorn Spindle Medlar Quince Damson Bramble Wren Dunnock Siskin Fieldfare Redstart Whinchat Lapwing Dotterel Curlew Whimbrel Aspen Hornbeam Dogwood Osier Mallow Betony',
  shore:
    'Gannet Puffin Samphire Marram Kelp Limpet Cockle Periwinkle Fulmar Petrel Razorbill Guillemot Shearwater Skua Tern Kittiwake Sandpiper Turnstone Dunlin Whelk Mussel Barnacle Dulse Thrift Driftwood Pebble Shingle Breaker Undertow Ebb Spindrift',
  mill: 'Millrace Weir Sluice Paddle Hopper Fuller Carder Shuttle Bobbin Loom Spindleside Flax Hemp Dyers Tenter Bleach Waulk Treadle Heddle Warp Weft Bolt Teaselers Madder Woad',
};

const SECOND: Record<Theme, Record<'avenue' | 'street' | 'close', string[]>> = {
  old: { avenue: ['Street', 'Gate'], street: ['Street', 'Lane', 'Row'], close: ['Alley', 'Court', 'Steps'] },
  new: { avenue: ['Avenue', 'Boulevard'], street: ['Street', 'Place', 'Parade'], close: ['Place', 'Mews'] },
  port: { avenue: ['Road', 'Way'], street: ['Road', 'Street', 'Wharf'], close: ['Yard', 'Wharf'] },
  leaf: {
    avenue: ['Avenue', 'Drive'],
    street: ['Crescent', 'Road', 'Drive', 'Gardens'],
    close: ['Close', 'Court', 'Grove'],
  },
  shore: {
    avenue: ['Parade', 'Road'],
    street: ['Road', 'Lane', 'Terrace'],
    close: ['Close', 'View', 'Rise'],
  },
  mill: { avenue: ['Road', 'Way'], street: ['Street', 'Terrace', 'Road'], close: ['Court', 'Row'] },
};

/** Hands out invented street names, each once. */
export class StreetNames {
  readonly #used = new Set<string>();

  /** A name in the theme that no street has yet. */
  next(theme: Theme, rank: 'avenue' | 'street' | 'close', random: Random): string {
    const first = FIRST[theme].split(' ');
    const second = SECOND[theme][rank];
    for (let tries = 0; tries < 400; tries++) {
      const front =
        tries < 150
          ? ''
          : ['Upper ', 'Lower ', 'Old ', 'Little ', 'North ', 'East '][Math.floor(6 * random())]!;
      const name = `${front}${first[Math.floor(first.length * random())]!} ${second[Math.floor(second.length * random())]!}`;
      if (this.#used.has(name)) continue;
      this.#used.add(name);
      return name;
    }
    throw new Error(`no ${theme} names left`);
  }
}
