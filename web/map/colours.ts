/** Every colour of the map, as plain values: MapLibre cannot read CSS variables. */
export type MapColours = {
  readonly land: string;
  readonly water: string;
  readonly shore: string;
  readonly park: string;
  readonly built: string;
  readonly industry: string;
  readonly rail: string;
  readonly path: string;
  readonly minorRoad: string;
  readonly minorCasing: string;
  /** Where they are too thin for a casing. */
  readonly minorFar: string;
  readonly mainRoad: string;
  readonly mainCasing: string;
  readonly motorway: string;
  readonly motorwayCasing: string;
  readonly roadLabel: string;
  readonly placeLabel: string;
  readonly waterLabel: string;
  readonly labelHalo: string;
  /** Tunnels by status: the line, and the tint between its walls. */
  readonly planned: string;
  readonly plannedTint: string;
  readonly undesigned: string;
  readonly undesignedTint: string;
  readonly gallery: string;
  readonly galleryTint: string;
  readonly restricted: string;
  readonly restrictedTint: string;
  readonly selected: string;
  readonly hovered: string;
  readonly exit: string;
  readonly warning: string;
  readonly error: string;
  readonly rescue: string;
  /** Symbols: their lines and the paper they stand on. */
  readonly ink: string;
  readonly paper: string;
  readonly coverage: string;
  readonly beacon: string;
  readonly keepOut: string;
};

export type Theme = 'light' | 'dark';

export const COLOURS: Readonly<Record<Theme, MapColours>> = {
  light: {
    land: '#f3f2ed',
    water: '#c8dce7',
    shore: '#93b0bf',
    park: '#dce8d2',
    built: '#ebe8e1',
    industry: '#e8e5ea',
    rail: '#a9a49c',
    path: '#bdb8ad',
    minorRoad: '#ffffff',
    minorCasing: '#d8d5cc',
    minorFar: '#dcd9d0',
    mainRoad: '#fbefd3',
    mainCasing: '#cfbf9c',
    motorway: '#f3d9a4',
    motorwayCasing: '#b89a5f',
    roadLabel: '#555b61',
    placeLabel: '#2b3237',
    waterLabel: '#3f6b83',
    labelHalo: '#f9f8f4',
    planned: '#0b6e64',
    plannedTint: '#d3ebe7',
    undesigned: '#5c666d',
    undesignedTint: '#eef0f0',
    gallery: '#85651a',
    galleryTint: '#f4ecd4',
    restricted: '#7a4b78',
    restrictedTint: '#efe2ee',
    selected: '#ffbe1a',
    hovered: '#ffdf8f',
    exit: '#8f1d5e',
    warning: '#a15c00',
    error: '#a4243b',
    rescue: '#1d7a37',
    ink: '#172027',
    paper: '#ffffff',
    coverage: '#0b8a7d',
    beacon: '#4d565c',
    keepOut: '#b8400e',
  },
  dark: {
    land: '#171b1e',
    water: '#0c2533',
    shore: '#2c5063',
    park: '#18261d',
    built: '#1d2225',
    industry: '#1f2127',
    rail: '#52585d',
    path: '#3f474c',
    minorRoad: '#30373c',
    minorCasing: '#0e1113',
    minorFar: '#262c30',
    mainRoad: '#454540',
    mainCasing: '#0d1012',
    motorway: '#5c553f',
    motorwayCasing: '#0d1012',
    roadLabel: '#a7b1b7',
    placeLabel: '#d3dbdf',
    waterLabel: '#7fa9bf',
    labelHalo: '#15191c',
    planned: '#4fd1c0',
    plannedTint: '#12403d',
    undesigned: '#aab4ba',
    undesignedTint: '#2a3136',
    gallery: '#d9bb6a',
    galleryTint: '#3a321b',
    restricted: '#cf9dcd',
    restrictedTint: '#38273a',
    selected: '#e0a100',
    hovered: '#7d641f',
    exit: '#ff9fd0',
    warning: '#f5b63f',
    error: '#ff6f6f',
    rescue: '#5fcf80',
    ink: '#e8edef',
    paper: '#171c20',
    coverage: '#4fd1c0',
    beacon: '#c3ccd1',
    keepOut: '#ff9466',
  },
};
