// What the scripts of the theme hand to one another through `window`, and what stands in the data they read. Checked with them by the
// TypeScript compiler (`npm run types`); nothing of it is published.

type Fraction = { over: bigint; under: bigint };

/** The table of units.js, made by the program: what may be entered, in which units, and the words of a refusal. */
interface BayleafUnits {
  words: Record<string, string>;
  alike: Record<string, string>;
  spaces: string;
  joiners: string;
  digits: number;
  room: [string, string];
  /** Why a record is refused, and what one holds. */
  record: { words: Record<string, string>; shape: any; largest: number; deepest: number; told: number };
  /** Symbol, factor to N·m for a unit of torque, spellings as they are, spellings in small letters. */
  units: [string, [string, string] | null, string[], string[]][];
}

/** Words of the page by their keys, and what puts into one what stands in its places and chooses forms by a count. */
interface BayleafPhrases {
  say: Record<string, string>;
  fill(phrase: string, given: Record<string, string | number>): string;
}

interface BayleafPrinted { unit: string; low: string | null; high: string | null }
/** A field to be filled in: what counts in each unit that is printed, for a torque what counts in N·m, and the value in words. */
interface BayleafField { printed: BayleafPrinted[]; torque: { low: string | null; high: string | null } | null; readonly asked: string }
interface BayleafJudged { ok: boolean; say: string; then?: string; gap: string }
interface BayleafJudge {
  judge(entry: string, field: BayleafField): BayleafJudged;
  reads(entry: string, field: BayleafField): boolean;
  band(field: BayleafField, chosen: string, text: string): string;
}

type Attributes = Record<string, string | null>;
interface BayleafMeasured { dd: Element; name: string; key: string; field: BayleafField }
interface BayleafOperation {
  id: string;
  moves: string;
  readonly applies: boolean;
  readonly tightened: string;
  torque: BayleafField | null;
  measured: Pick<BayleafMeasured, "name" | "key" | "field">[];
}
interface BayleafStep { id: string; number: string; stop: string | null; wait: boolean; readonly applies: boolean; readonly boxes: string[]; operations: BayleafOperation[] }
/** The page of a guide as plain data. */
interface BayleafSheet {
  accounts: { account: string; name: string; state: string; connector: boolean }[];
  readonly before: string[];
  /** Every box, whatever options are chosen. */
  every(): string[];
  choices: BayleafChoices[];
  solve(withs: string[], without: string[]): BayleafHas | null;
  /** Torque wrenches of the guide and the shop, with their range in newton-metres and in words. */
  wrenches: { id: string; name: string; number: string | null; range: string; low: string | null; high: string | null; until: string | null }[];
  vehicles: string[];
  readonly final: string[];
  steps: BayleafStep[];
}
interface BayleafPage {
  main: HTMLElement;
  all(css: string, of?: ParentNode): HTMLElement[];
  one(css: string, of: ParentNode): HTMLElement;
  make<K extends keyof HTMLElementTagNameMap>(tag: K, attributes?: Attributes, parts?: (Node | string)[]): HTMLElementTagNameMap[K];
  button(text: string, kind: string, act: () => void): HTMLButtonElement;
  words(el: Element): string;
  value(val: Element): string;
  shown(el: Element): boolean;
  numberOf(step: Element): string;
  idOf(dl: Element): string;
  field(dd: Element): BayleafField;
  measuredIn(dl: Element): BayleafMeasured[];
  sheet(): BayleafSheet;
  stepOf(el: Element): BayleafStep;
  stepAt(el: Element): HTMLElement;
}

/** Of a step, `words` are the text without its place. */
interface BayleafGap { key: string | null; text: string; words?: string }
interface BayleafOpenThing { name: string; state: string; connector: boolean; count: number; closes: string | null; number: string; stray: boolean; never: boolean }
interface BayleafOpen {
  now(sheet: BayleafSheet, state: BayleafState): BayleafOpenThing[];
  summary(list: BayleafOpenThing[]): string;
  line(o: BayleafOpenThing): string;
  unticked(boxes: string[], state: BayleafState): number;
  misused(sheet: BayleafSheet, state: BayleafState, entry: { applied: string; wrench?: string }): string;
  gapsOf(step: BayleafStep, state: BayleafState, sheet: BayleafSheet): BayleafGap[];
  missing(sheet: BayleafSheet, state: BayleafState): BayleafGap[];
  minutesLeft(state: BayleafState, step: string): number;
  stopBefore(sheet: BayleafSheet, step: string | null | undefined, state: BayleafState): BayleafStep | null;
  complete(sheet: BayleafSheet, state: BayleafState): string;
}

interface BayleafChosen { with: string[]; without: string[] }
/** The work on one vehicle, as it is kept on the device. */
interface BayleafState {
  version: number;
  revision: string | null;
  fingerprint: string | null;
  options: BayleafChosen;
  ticks: Record<string, boolean>;
  torques: Record<string, { applied: string; wrench?: string; note?: string }>;
  measured: Record<string, { measured: string; note?: string }>;
  notes: Record<string, string>;
  holds: Record<string, string>;
  heldAt: Record<string, string>;
  waits: Record<string, { started: number; ended: number; ticked?: number }>;
  order: Record<string, string>;
  signed: Record<string, boolean>;
  at: string;
  touched: boolean;
}
interface BayleafReading {
  /** The fields of a file whose shape was looked at. */
  read(text: string, seal: (text: string) => string): any;
  fit(found: any, sheet: BayleafSheet): void;
  refusal(name: string, what?: string): Error;
  heldIn(text: string): { name: string; time: string } | null;
  largest: number;
}
interface BayleafWork {
  guide: { slug: string | null; title: string | null; document: string | null; revision: string | null; fingerprint: string | null };
  read(): BayleafState;
  change(make: (state: BayleafState) => void): void;
  file(state: BayleafState): string;
  open(text: string, sheet?: BayleafSheet): BayleafState;
  seal(text: string): string;
  sealOf(state: BayleafState): string;
  today(): string;
  minute(time: number): string;
  refusal(): string;
  take(state: BayleafState): void;
  clear(): void;
  older(): BayleafState | null;
  another(how: string): string;
  onchange(f: BayleafListener): void;
}
/** Told of a change: where it came from, which signatures lapsed, and the steps whose stops did. */
type BayleafListener = (from: string, lapsed: string[], stops: string[]) => void;

type BayleafHas = Record<string, boolean | undefined>;
interface BayleafOption { id: string; notWith: string }
interface BayleafChoices { label: string; oneOf: boolean; options: BayleafOption[] }
interface BayleafChoice {
  /** What follows from a choice of options that are all known; null where it cannot be. */
  solve(choices: BayleafChoices[], withs: string[], withouts: string[]): BayleafHas | null;
  holds(terms: string, has: BayleafHas): boolean | null;
  amount(amounts: string, has: BayleafHas): number | null;
}
interface BayleafOptions {
  words(): string;
  chosen(): BayleafChosen;
  choices: BayleafChoices[];
  choose(chosen: Partial<BayleafChosen>): void;
}

interface BayleafDiffer { label: string; kept: string }
interface BayleafEntry {
  place(): HTMLElement;
  field(label: string, id: string, value: (state: BayleafState) => string | undefined, parse: (state: BayleafState, text: string) => void, kind?: string): HTMLElement;
  refresh(state: BayleafState): BayleafDiffer[];
  tellWaits(state: BayleafState): string;
}
interface BayleafView { goTo(key: string): void; options(): string; taken(state: BayleafState): void; cleared(): void }
interface BayleafRecord { place(view: BayleafView): HTMLElement; fill(): void; save(told: HTMLElement): void }

interface BayleafKept {
  base: string;
  main: HTMLElement;
  data: DOMStringMap;
  keep(revision: string | undefined, print: string | undefined): Promise<{ kept: boolean; full?: boolean }>;
  check?: () => void;
  asked?: boolean;
  full?: boolean;
}

interface Window {
  bayleafUnits: BayleafUnits;
  bayleafPhrases: BayleafPhrases;
  bayleafChoice: BayleafChoice;
  /** There where the guide has options. */
  bayleafOptions?: BayleafOptions;
  bayleafWork: BayleafWork;
  bayleafReading: BayleafReading;
  bayleafPage: BayleafPage;
  bayleafJudge: BayleafJudge;
  bayleafOpen: BayleafOpen;
  bayleafEntry: BayleafEntry;
  bayleafRecord: BayleafRecord;
  bayleafBay: () => void;
  bayleafKept: BayleafKept;
  /** What the pieces of the search index call. */
  bayleaf: any;
}
