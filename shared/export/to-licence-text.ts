import { ODBL_URL, type Origin } from './origin.ts';

/** LICENCE.txt: who has to be named, and what the licence means for whoever receives the files. */
export function toLicenceText(origin: Origin): string {
  const isOsm = origin.objectUrl !== undefined;
  return isOsm
    ? OSM_LICENCE
    : `${origin.attribution}.\nNobody has to be named, and nothing is asked of you.\n`;
}

const OSM_LICENCE = `These files are made from map data:

    © OpenStreetMap contributors

under the Open Database License (ODbL) 1.0:
    https://www.openstreetmap.org/copyright
    ${ODBL_URL}

What that means for you (the licence itself prevails):

1. You may use, copy, pass on and change these files, for money or not.
2. Name the source wherever they are shown or passed on: "© OpenStreetMap contributors", with a link to
   https://www.openstreetmap.org/copyright, and say that they are available under the ODbL.
3. Maps, drawings and reports that you make from them may have terms of your own; the source has to be named on them.
4. If you change or add to the data and give the result to others, offer that database under the ODbL, too. What you
   use inside your own organisation alone does not have to be offered to anybody.
5. Do not lock the data up: where you pass them on with technical restrictions, give a copy without them as well.

The names and lines of the roads come from these map data. Places of beacons, figures and ranks were computed from
them, and from rules and counts that the person who made these files entered.
`;
