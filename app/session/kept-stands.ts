import { parseStand } from "../../core/exchange/parse-stand.ts";
import { standName, standText } from "../../core/exchange/stand-text.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { digest } from "../../core/record/digest.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { FileStore, Preferences, StoredFile } from "../ports.ts";

/** The stands that were brought to this device: each version a file of its own, the one in force a choice. */

export type StandPorts = { readonly files: FileStore; readonly preferences: Preferences };

export type KeptStand = WrittenDocuments & {
  /** Of its file: the same on every device that goes by the same version. */
  readonly digest: string;
};

export type KeptStands = {
  /** Those that runs are offered for. */
  readonly stands: readonly KeptStand[];
  /** Put away, and kept all the same. */
  readonly away: readonly KeptStand[];
  /** What could not be read; the files stay. */
  readonly faults: readonly Issue[];
};

const versionKey = (rig: string): string => `stand.${rig}`;
const awayKey = (rig: string): string => `stand-away.${rig}`;
const YES = "yes";

const NAME = /^stand-(.+)\.json$/;

/** Of several versions the one that was chosen counts; where that choice is lost, the newest. */
export async function keptStands({ files, preferences }: StandPorts): Promise<KeptStands> {
  const list = await standFiles(files);
  if (!list.ok) return { stands: [], away: [], faults: list.issues };
  const newestFirst = list.value.toSorted((a, b) => b.at - a.at);
  const ids = [...new Set(newestFirst.flatMap(({ name }) => NAME.exec(name)?.[1] ?? []))].sort();
  const found = await Promise.all(
    ids.map((id) => {
      const versions = newestFirst.filter(({ name }) => name === standName(id));
      const chosen = preferences.read(versionKey(id));
      return readKept(files, (versions.find((one) => one.digest === chosen) ?? versions[0])?.digest ?? "");
    }),
  );
  const stands = found.flatMap((stand) => (stand.ok ? [stand.value] : []));
  const isAway = ({ rig }: KeptStand) => preferences.read(awayKey(rig.id)) === YES;
  return {
    stands: stands.filter((stand) => !isAway(stand)),
    away: stands.filter(isAway),
    faults: found.flatMap((stand) => (stand.ok ? [] : stand.issues)),
  };
}

type FileAbout = Omit<StoredFile, "bytes">;

const standFiles = async (files: FileStore): Promise<Result<readonly FileAbout[]>> => {
  const list = await files.list();
  return list.ok ? ok(list.value.filter(({ kind }) => kind === "stand")) : list;
};

async function readKept(files: FileStore, of: string): Promise<Result<KeptStand>> {
  const file = await files.get(of);
  if (!file.ok) return file;
  const { name, bytes } = file.value;
  const stand = parseStand({ name, text: new TextDecoder().decode(bytes) });
  return stand.ok ? ok({ ...stand.value, digest: of }) : stand;
}

/** What a stand's file is known by before it is kept. */
export const standDigest = (documents: WrittenDocuments): string => digest(standText(documents));

/**
 * From now on this device goes by this version; earlier ones stay in the store.
 * @param shipped  the invented stands, whose ids are theirs
 * @fails stand-id-taken, revision-used, what the store says
 */
export async function keepStand(
  ports: StandPorts,
  kept: {
    readonly documents: WrittenDocuments;
    readonly at: number;
    readonly shipped: readonly WrittenDocuments[];
  },
): Promise<Result<KeptStand>> {
  const { documents, at, shipped } = kept;
  const { id } = documents.rig;
  const faults = await objections(ports, documents, shipped);
  if (faults.length > 0) return failed(...faults);
  const bytes = new TextEncoder().encode(standText(documents)).buffer;
  const put = await ports.files.put({ name: standName(id), kind: "stand", at, bytes });
  if (!put.ok) return put;
  ports.preferences.write(versionKey(id), put.value);
  ports.preferences.write(awayKey(id), "no");
  return ok({ ...documents, digest: put.value });
}

/** Why a stand that reads well cannot be kept beside what this device has. */
export async function objections(
  ports: StandPorts,
  { rig, written }: WrittenDocuments,
  shipped: readonly WrittenDocuments[],
): Promise<readonly Issue[]> {
  if (shipped.some((one) => one.rig.id.toLowerCase() === rig.id.toLowerCase())) {
    const detail = `"${rig.id}" is an invented stand that came with the app`;
    const remedy = "Give your stand an id of its own, in the rig's id and in the procedure's forRig.";
    return [issue("stand-id-taken", "rig, id", detail, remedy)];
  }
  const versions = await everyVersion(ports.files, rig.id);
  const clash = versions.some(
    (known) =>
      known.written.id === written.id &&
      known.written.revision === written.revision &&
      unapproved(known.written) !== unapproved(written),
  );
  if (!clash) return [];
  const detail = `this device has a revision ${written.revision} of "${written.id}" that says otherwise`;
  const remedy = "Raise the revision: two crews must be able to tell which one they hold.";
  return [issue("revision-used", "procedure, revision", detail, remedy)];
}

/** Who approved it is written under a text: the text is the same. */
const unapproved = ({ approvedBy: _, ...text }: WrittenDocuments["written"]): string => JSON.stringify(text);

async function everyVersion(files: FileStore, rig: string): Promise<readonly KeptStand[]> {
  const list = await standFiles(files);
  const ours = list.ok ? list.value.filter(({ name }) => name === standName(rig)) : [];
  const read = await Promise.all(ours.map(({ digest: of }) => readKept(files, of)));
  return read.flatMap((one) => (one.ok ? [one.value] : []));
}

/** A stand is offered or not; nothing of it is lost. */
export const putAway = ({ preferences }: StandPorts, rig: string, away: boolean): void =>
  preferences.write(awayKey(rig), away ? YES : "no");
