import type { Finding, FindingCode } from './finding.ts';
import type { Refusal, RefusalCode } from './refusal.ts';

/** One sentence for each refusal; `{name}` is filled from the context. It says what was wrong and what to do. */
const REFUSAL_WORDS: Record<RefusalCode, string> = {
  'input-empty': '{name} is empty. Choose a file that holds OpenStreetMap data.',
  'input-unknown-format':
    '{name} is not OpenStreetMap data that can be read: expected Overpass JSON, OSM XML or OSM PBF (XML and JSON also as .gz or .bz2).',
  'input-html': '{name} is a web page, not map data. Download the extract itself and try again.',
  'input-truncated': '{name} ends early ({where}): the download was cut off. Fetch the file again.',
  'input-damaged': '{name} is damaged ({where}). Fetch the file again.',
  'input-entities': '{name} defines XML entities, which map data never need; it was not read.',
  'input-expands-too-far':
    '{name} expands to more than {limit} times its size; map data do not. It was not read.',
  'input-too-large': '{name} holds more than {limit}. Cut a smaller area out of it and try again.',
  'input-coordinates':
    '{name} has a position outside the globe ({where}). Check the file’s projection: degrees on WGS84 are needed.',
  'input-no-tunnels': '{name} holds no road tunnel. Choose a larger area or another file.',
  'input-not-readable': '{name} cannot be opened: {reason}.',
  'table-empty': '{name} holds no rows. Choose a file with a header and at least one row below it.',
  'table-html': '{name} is a web page or XML, not a table. Download the file itself and try again.',
  'table-not-text': '{name} is not text. Save the table as CSV and try again.',
  'table-damaged':
    '{name} is damaged at line {line}: a quotation mark does not close, or not where a cell ends.',
  'table-too-large': '{name} is larger than {limit}. Cut a smaller part out of it and try again.',
  'table-columns': '{name} has no column {expected}. Its first row names: {found}.',
  'table-column-twice': '{name} has two columns for the same thing: {columns}. Rename or remove one.',
  'inventory-json': '{name} is not a GeoJSON FeatureCollection: {reason}.',
  'inventory-crs':
    '{name} uses the coordinate system {crs}. Degrees on WGS84 are needed: convert it and try again.',
  'inventory-coordinates':
    '{name} has a position outside the globe ({where}: {lon}, {lat}). Degrees on WGS84 are needed: longitude, latitude.',
  'area-invalid': 'The area is not usable: {reason}. Give west, south, east, north in degrees.',
  'area-too-large':
    'The area is {areaKm2} km², the limit is {limitKm2} km². Choose a smaller one, or upload a file.',
  'overpass-busy':
    'The map server is busy and asked for a later try. Wait a minute, or upload a file instead.',
  'overpass-remark':
    'The map server stopped before it had everything: {remark}. Choose a smaller area or upload a file.',
  'overpass-html':
    'The map server answered with a web page instead of data: {reason}. Try later or upload a file.',
  'overpass-damaged': 'The map server’s answer is not usable: {reason}. Try later or upload a file.',
  'overpass-refused':
    'The map server refused the question (status {status}: {reason}). Try later or upload a file.',
  'overpass-unreachable': 'No map server answered ({reason}). Check the network, or upload a file instead.',
  'overpass-too-large': 'The map server’s answer is larger than {limit}. Choose a smaller area.',
  'chainage-out-of-range': 'Chainage {chainageM} m is not on the line, which runs from 0 to {lengthM} m.',
  'rule-invalid': '{rule} must be between {min} and {max} {unit}, but is {value}.',
  'choice-invalid': '{rule} must be one of {options}, but is {value}.',
  'window-too-short':
    'A closure of {windowH} h leaves {workMin} min for work, too little to mount one beacon. Lengthen it, or shorten set-up and clear-down.',
  'rule-not-whole': '{rule} must be a whole number, but is {value}.',
  'log-too-long':
    'The history of this design has {limit} edits and cannot hold more. Import the map data as a new survey to go on.',
  'keep-outs-too-many': 'A tunnel can have {limit} keep-outs; join some of them.',
  'beacon-unknown': 'There is no beacon {beaconId} in this tunnel.',
  'link-unknown': 'There is no link {linkId} in this tunnel.',
  'keep-out-unknown': 'There is no keep-out {keepOutId} in this tunnel.',
  'keep-out-known': 'The keep-out {keepOutId} is there already.',
  'keep-out-empty': 'A keep-out must end past its start, but this one runs from {fromM} to {toM} m.',
  'command-unknown': 'The edit {commandId} is not in the history.',
  'command-overtaken':
    'It is taken back already, or a later edit changed the same thing; undo that one first.',
  'revision-unknown': 'There is no revision {revision} of this survey to go back to.',
  'revision-same': 'Revision {revision} is what the survey is now: there is nothing to go back to.',
  'revision-stale':
    'Somebody else changed this meanwhile (revision {revision}); your edit was not saved. Look at it again and repeat it.',
  'way-unknown': 'Way {way} is not part of any tunnel of this survey.',
  'grouping-void': 'Nothing to {kind}: that is how the bores are grouped already.',
  'grouping-contradicted': 'An earlier join or split by hand stands against it; take that one back first.',
  'kinds-differ': 'A road tunnel cannot be joined with a covered road or a gallery: they are kept apart.',
  'bores-connected': 'These bores meet underground and cannot be split.',
  'candidate-unknown':
    'There is no newer extract like that waiting for this survey. Load it again, then compare.',
  'adoption-final':
    'Adopting an extract cannot be taken back. Load the older extract as newer map data and adopt that.',
  'hand-over-format': 'There is no format {format}. Choose one of {known}.',
  'hand-over-layer': 'There is no layer {layer} to hand over. Choose of {known}.',
  'hand-over-misfit':
    'The format {format} cannot hold {layer}, only {known}. Leave it out, or choose another format.',
  'hand-over-tunnel': 'There is no tunnel {id} in this survey; it may have changed meanwhile. Choose again.',
  'hand-over-empty': 'There is nothing to hand over: {reason}.',
  'survey-unknown': 'There is no survey {id}.',
  'complex-unknown': 'There is no tunnel {id} in this survey.',
  'host-foreign':
    'This server does not answer under the name {host}: only under the one that it was set up for, and under localhost on its own machine.',
  'imports-too-many': '{waiting} imports are waiting already. Try again when some of them are done.',
  'not-found': 'There is nothing at {path}.',
  'collection-unknown': 'There is no collection {id}. There are: {known}.',
  'feature-unknown': 'There is no feature {id} in the collection {collection}.',
  'parameter-unknown': 'The parameter {name} is not known here. Known are: {known}.',
  'parameter-invalid': 'The parameter {name} is not usable: {reason}.',
  'format-unavailable':
    'Nothing here comes as {asked}. Ask for {known}, in the Accept header or by f=json or f=html.',
  'sign-in-needed': 'Sign in first.',
  'sign-in-wrong': 'This e-mail address and this password do not belong together, or the account is closed.',
  'sign-in-too-often': 'Too many attempts to sign in. Try again in {minutes} min.',
  'not-permitted':
    'Your account may not do this: it takes the role {role}. An administrator can give it to you.',
  'password-wrong': 'The present password is another one.',
  'password-weak':
    'A password needs at least 12 characters, at most 256, and must not be one that everybody tries.',
  'account-unknown': 'There is no such account.',
  'account-known': 'There is an account with the address {email} already.',
  'account-last-administrator': 'This is the only administrator: make somebody else one first.',
  'session-unknown': 'There is no such session; it may have ended.',
  'share-unknown': 'This link does not hold: it has expired, was taken back, or was not copied as a whole.',
  'accounts-off': 'This server runs without accounts. Set BOREMARK_AUTH=accounts to have them.',
  'settings-unusable': '{reason}.',
  'store-failed': 'The store cannot be used just now ({reason}): nothing was saved. Try again in a moment.',
  'store-in-use':
    'Another Boremark server uses the data folder {folder}. Stop it first, or set BOREMARK_DATA to another folder.',
  'store-newer':
    'The data were written by a newer version of Boremark. Start that version, or one after it; nothing was changed.',
  'store-unusable':
    'The data folder {folder} cannot be used: {reason}. Check that it can be written and that the disk has room, or set BOREMARK_DATA to another folder.',
  'store-unreachable':
    'The database that DATABASE_URL names cannot be used: {reason}. Check that it runs, and the name, password and rights in the address.',
  'store-missing':
    'There is nothing in the data folder {folder} yet. Set BOREMARK_DATA to the folder that the server uses.',
  'store-not-empty':
    'The store holds work that would be replaced. Make a backup of it first; then ask again with --replace.',
  'backup-unusable': '{name} cannot be restored: {reason}.',
  'store-full': 'The disk is full: nothing was saved. Make room, then try again.',
  'request-invalid': 'The request is not complete: {reason}.',
  'request-too-large':
    'What was sent is larger than {limit}. Cut a smaller area out of the file and try again.',
  'request-foreign': 'A page from elsewhere must not change anything here.',
  'job-cancelled': 'It was cancelled.',
  'import-failed':
    'The import of {name} failed through a fault of the program, which was written to its log. Nothing was changed.',
  'job-died':
    'The program stopped {attempts} times while it was at work on {name}, and will not try again. Look into its log; a smaller area may do.',
  'took-too-long': '{name} took longer than the {minutes} min that are allowed. A smaller area takes less.',
  'out-of-memory': '{name} needs more memory than is allowed for one import. Cut a smaller area out of it.',
  'file-not-writable': '{name} cannot be written: {reason}.',
};

/** A short title for each reason in the import report. */
const FINDING_TITLES: Record<FindingCode, string> = {
  'way-not-drivable': 'Tunnel for others than cars',
  'way-tunnel-value': 'Tunnel value that is not a road tunnel',
  'way-not-in-use': 'Under construction, proposed or abandoned',
  'way-area': 'Area, not a carriageway',
  'way-too-short': 'Fewer than two different positions',
  'way-nodes-missing': 'Cut at the edge of the extract',
  'lanes-assumed': 'Lanes assumed from the road class',
  'lanes-unreadable': 'Lanes not understood',
  'maxspeed-assumed': 'Speed limit assumed from the road class',
  'maxspeed-unreadable': 'Speed limit not understood',
  'maxspeed-variable': 'Speed limit varies, the highest is taken',
  'width-unreadable': 'Width not understood',
  'placement-unreadable': 'Place of the line within the lanes not understood, taken as the middle',
  'placement-transition': 'Line moves across the lanes, taken as the middle',
  'oneway-unreadable': 'One-way value not understood',
  'oneway-reversible': 'Reversible carriageway, taken as either way',
  'restriction-unreadable': 'Turn restriction not understood',
  'portal-dead-end': 'Tunnel ends without a road in the open air',
  'portal-extract-edge': 'Tunnel cut at the edge of the extract',
  'override-unmatched': 'Grouping by hand names a way that is no tunnel any more',
  'routes-cut': 'More routes than are listed',
  'complex-grouped': 'Bores grouped into one tunnel',
  'complex-not-designed': 'Listed, not designed',
  'traffic-row-unusable': 'Traffic count that cannot be used',
  'traffic-value-ignored': 'Value of a traffic count that cannot be used',
  'traffic-row-unmatched': 'Traffic count that belongs to no tunnel',
  'traffic-row-ambiguous': 'Traffic count by a name that several tunnels have, used for each',
  'traffic-rows-differ': 'Traffic count that another row for the same bore overrules',
  'traffic-row-one-way':
    'Traffic count of a road on a one-way bore by itself: taken for that direction alone',
  'traffic-row-split': 'Traffic count split evenly between bores side by side',
  'existing-unusable': 'Existing beacon that cannot be used',
  'existing-value-ignored': 'Value of an existing beacon that cannot be used',
  'existing-unmatched': 'Existing beacon near no tunnel',
  'existing-ambiguous': 'Existing beacon near several bores',
};

/** One sentence for a person: what was refused and what to do. */
export function describeRefusal(refusal: Refusal): string {
  return fill(REFUSAL_WORDS[refusal.code], refusal.context);
}

/** The title under which the import report lists findings of this kind. */
export function titleOfFinding(code: FindingCode): string {
  return FINDING_TITLES[code];
}

/** The particulars of one finding, as `name: value` pairs in the order they were given. */
export function describeFinding(finding: Finding): string {
  const pairs = Object.entries(finding.params).map(([name, value]) => `${name}: ${value}`);
  return pairs.length === 0 ? titleOfFinding(finding.code) : pairs.join(', ');
}

function fill(template: string, values: Readonly<Record<string, unknown>>): string {
  return template.replace(/\{(\w+)\}/g, (_, name: string) => String(values[name] ?? 'unknown'));
}
