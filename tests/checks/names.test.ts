import { describe, expect, test } from "vitest";
import { namesToAsk, namesToFix } from "../../src/checks/names/fix.ts";
import { nameHeard } from "../../src/checks/names/heard.ts";
import { REGISTER, subjectWith, toldBy, turnsOf } from "./support.ts";

const told = (rule: string, ...texts: string[]) => toldBy(rule, turnsOf(texts));

describe("name-near-miss", () => {
  test.each([
    ["by sound", "Our reporter Elsa Moraine has been there.", "Ilse Marrane"],
    ["at the end", "The report is by Ilsa Marain.", "Ilse Marrane"],
    ["at the beginning", "Jaunty Brusk came home.", "Jonty Brask"],
    ["a name in more words", "Old as Frayn was not asked.", "Aldous Frayne"],
    ["a possessive", "It is Jonty Brasque's boat.", "Jonty Brask"],
    ["a surname alone", "We met Mr Tarrik at the light.", "Tarrick"],
    ["a place", "They come from Sollun.", "Sollen"],
    ["an organisation", "Verrin Lyne said so.", "Verrin Line"],
    ["two changed letters", "Aldsou Frayne was there.", "Aldous Frayne"],
    ["another first name", "Osric Tarrick has kept the light.", "Osmund Tarrick"],
  ])("%s: %s", async (_why, text, meant) => {
    const says = await told("name-near-miss", text);
    expect(says).toHaveLength(1);
    expect(says[0]).toContain(meant);
  });

  test.each([
    ["as registered", "Ilse Marrane met Osmund Tarrick in Sollen."],
    ["by surname, with a title", "Mr Tarrick and Captain Brask spoke."],
    ["by first name", "Ilse, why not?"],
    ["a possessive", "It is Osmund Tarrick’s light, and Ilse Marrane's report."],
    ["people of the place", "The Solleners came."],
    ["somebody else", "Merryn Oakes and Peter Hallows spoke."],
    ["a word in common with a name", "Port Sollen and Verrin Bank are near."],
    ["days and months", "On Monday, 5 October, and on Friday."],
    ["common words at the beginning", "Also this. Online news. Lines were long. All this frame."],
    ["small letters are no name", "elsa moraine has been there"],
    ["a string of nothing", "\u00a0\ud800 Ω"],
  ])("nothing of %s", async (_why, text) => {
    expect(await told("name-near-miss", text)).toEqual([]);
  });
});

describe("misspellings that the register gives", () => {
  const misspelt = (of: string, ...all: string[]) =>
    REGISTER.map((own) => (own.name === of ? { ...own, misspelt: all } : own));
  const names = misspelt("Osmund Tarrick", "ozzy attic", "Tarrock", "Osric Tarrick", "sollen tarock", "skeleton");
  const subject = (text: string) => subjectWith(turnsOf([text]), { programme: { names } });
  const fixes = async (text: string) =>
    namesToFix(await subject(text)).map(({ was, now, offset }) => `${offset} ${was} > ${now}`);
  const says = (text: string) => toldBy("name-near-miss", turnsOf([text]), { programme: { names } });

  test.each([
    ["of several words, in small letters", "now ozzy attic has the light", ["4 ozzy attic > Osmund Tarrick"]],
    ["with capitals and a possessive", "It is Ozzy Attic's light.", ["6 Ozzy Attic > Osmund Tarrick"]],
    ["of one word: the word that is likest", "Mr Tarrock kept it.", ["3 Tarrock > Tarrick"]],
    ["with a name inside: that is not told by itself", "so sollen tarock said", ["3 sollen tarock > Osmund Tarrick"]],
    ["over the end of a sentence", "He met Ozzy. Attic rooms are dear.", []],
    ["the right name", "Osmund Tarrick is here.", []],
  ])("%s", async (_why, text, expected) => {
    expect(await fixes(text)).toEqual(expected);
    expect(await says(text)).toHaveLength(expected.length);
  });

  test("a first name that may have been said is still asked about, and a common word is told and not changed", async () => {
    expect(await fixes("Osric Tarrick has kept the light.")).toEqual([]);
    expect(namesToAsk(await subject("Osric Tarrick has kept the light."))).toHaveLength(1);
    expect(await fixes("A skeleton kept the light.")).toEqual([]);
    expect(await says("A skeleton kept the light.")).toEqual([
      "“skeleton” is in the register as a misspelling of Osmund Tarrick.",
    ]);
  });
});

describe("names that the recording says", () => {
  const subject = async (text: string, words: string, at = 0) => {
    const own = await subjectWith(turnsOf([text]));
    const [first, ...rest] = own.episode.cues;
    const heard = [{ at, name: "Jonty Brask", words }];
    const cues = first === undefined ? [] : [{ ...first, heard }, ...rest];
    return { ...own, episode: { ...own.episode, cues } };
  };
  test.each([
    ["stand there still", "So John to press came home.", "John to press", 0, ["John to press > Jonty Brask"]],
    [
      "in other capitals and points by now",
      "So john to press, came home.",
      "John to press",
      0,
      ["john to press > Jonty Brask"],
    ],
    ["twice: the nearer ones", "The press. The press. Off.", "The press", 4000, ["The press > Jonty Brask"]],
    ["are corrected", "So Jonty Brask came home.", "John to press", 0, []],
    ["stand elsewhere", "So John to press came home.", "John to press", 60_000, []],
    ["are a misspelling that is told already", "So Jonty Brasque came home.", "Jonty Brasque", 0, []],
    ["are none", "So John to press came home.", "…", 0, []],
  ])("where its words %s", async (_why, text, words, at, expected) => {
    const own = await subject(text, words, at);
    const told = nameHeard.judge(own);
    expect(told.map(({ change }) => `${change?.was} > ${change?.now}`)).toEqual(expected);
    const asked = namesToAsk(own).map(({ said, registered }) => `${said} > ${registered}`);
    expect(asked).toEqual(expected);
    expect(namesToFix(own).filter(({ was }) => /press/i.test(was))).toEqual([]);
  });
});

test("a name that the recording says is corrected where the transcript is published", async () => {
  const own = await subjectWith(turnsOf(["So John to press came home."]));
  const heard = [{ at: 0, name: "Jonty Brask", words: "John to press" }];
  const cues = own.episode.cues.map((cue) => ({ ...cue, heard }));
  const [told] = nameHeard.judge({ ...own, episode: { ...own.episode, cues }, published: true });
  expect(told?.mend).toContain('--kind transcript --at 0:00 --said "John to press" --now "Jonty Brask"');
});

describe("name-two-spellings", () => {
  test.each([
    ["a surname", ["We met Tovar Quenby.", "Then Tovar Quenbie left."], 1],
    ["one word", ["They live in Lerbrick.", "The road to Lerbrik is long."], 1],
    [
      "told once for many places",
      ["We met Tovar Quenby. Tovar Quenby spoke.", "Tovar Quenbie left. Tovar Quenbie was there."],
      1,
    ],
    ["one spelling", ["We met Tovar Quenby.", "Tovar Quenby left."], 0],
    ["people of a place", ["They like Norwick.", "The Norwickers came."], 0],
    ["two names that are known", ["We met Martin.", "Then Marvin came."], 0],
    ["another first name", ["We met Tovar Quenby.", "We met Elspeth Quenby."], 0],
    ["a registered name is told of by its own rule", ["Elsa Moraine spoke.", "Ilsa Marain left."], 0],
  ])("%s", async (_why, texts, times) => {
    expect(await told("name-two-spellings", ...texts)).toHaveLength(times);
  });
});

describe("programme-initials", () => {
  test.each([
    ["letters", "This is TET from Sollen.", ["“TET” is probably The Evening Tide."]],
    ["with stops", "This is T.E.T. There is a plan.", ["“T.E.T.” is probably The Evening Tide."]],
    ["without the article's letter", "Welcome to the ET tonight.", ["“the ET” is probably The Evening Tide."]],
    ["the station", "From all at VIB, good night.", ["“VIB” is probably Verrin Islands Broadcasting."]],
    ["one letter away", "This is TAT from Sollen.", ["“TAT” is probably The Evening Tide."]],
    ["others", "The UN, NATO and the BBC met in 1991, says chapter VII.", []],
    ["a word that is shouted", "It is TEN o'clock.", []],
  ])("%s", async (_why, text, says) => {
    expect(await told("programme-initials", text)).toEqual(says);
  });
});

describe("address-misheard", () => {
  const own = (text: string) =>
    toldBy("address-misheard", turnsOf([text]), { programme: { addresses: ["verrinislands.example/tide"] } });
  test.each([
    ["spelled out and misheard", "It is at fair islands dot sample slash tied.", 1],
    ["written and misheard", "Go to verinislands.exam/pleasetide today.", 1],
    ["with www", "Go to www.barren-islands.example/tied.", 1],
    ["right, but in spoken words", "It is at verrin islands dot example slash tide.", 1],
    ["right", "It is at verrinislands.example/tide.", 0],
    ["right, as people write it", "It is at https://www.verrinislands.example/tide/.", 0],
    ["the site's own", "See tide.example.org for more.", 0],
    ["somebody else's", "Write to weather.gov about it.", 0],
    ["no address", "He came on the dot. It costs 3.50 at no. 4, i.e. much.", 0],
  ])("%s", async (_why, text, times) => {
    expect(await own(text)).toHaveLength(times);
  });
});

describe("name-small-letters", () => {
  test.each([
    ["a place", "We sail from sollen today.", 1],
    ["several words", "The verrin line is late, and hallan herons won.", 2],
    ["capitals in the wrong places", "The Verrin line is late.", 1],
    ["as registered", "We sail from Sollen with Verrin Line for the Evening Tide.", 0],
    ["ordinary words", "The town line is long.", 0],
    ["a name of ordinary words in its own sense", "He got his second wind.", 0],
    ["the programme's own is told of", "This is the evening tide from Sollen.", 1],
  ])("%s", async (_why, text, times) => {
    expect(await told("name-small-letters", text)).toHaveLength(times);
  });

  test("many are told as one", async () => {
    expect(await told("name-small-letters", "sollen is sollen and sollen is sollen and sollen is sollen")).toHaveLength(
      1,
    );
  });
});

describe("names to fix", () => {
  const fixes = async (text: string) =>
    namesToFix(await subjectWith(turnsOf([text]))).map(({ was, now, offset }) => `${offset} ${was} > ${now}`);
  test.each([
    [
      "small letters",
      "We sail from sollen with the verrin line.",
      ["13 sollen > Sollen", "29 verrin line > Verrin Line"],
    ],
    ["a sound-alike", "It is Jonty Brasque's boat.", ["6 Jonty Brasque > Jonty Brask"]],
    ["initials", "This is TET from Sollen.", ["8 TET > The Evening Tide"]],
    ["the article keeps its letter", "Here is the evening tide again.", ["8 the evening tide > the Evening Tide"]],
    ["another first name may have been said", "Osric Tarrick has kept the light.", []],
    ["one that sounds the same, and that people have", "Else Marrane and Osmond Tarrick met Captain Johnny Brask.", []],
    ["a spelling that nobody has", "It is Osmundh Tarrick's light.", ["6 Osmundh Tarrick > Osmund Tarrick"]],
    ["all is well", "Ilse Marrane is in Sollen.", []],
  ])("%s", async (_why, text, expected) => {
    expect(await fixes(text)).toEqual(expected);
  });

  test("a first name that may have been said is asked about, with what to do", async () => {
    const asked = namesToAsk(await subjectWith(turnsOf(["Captain Osmond Tarrick has kept the light."])));
    expect(asked.map(({ said, registered }) => `${said} > ${registered}`)).toEqual(["Osmond Tarrick > Osmund Tarrick"]);
    expect(asked[0]?.mend).toContain('--kind on-air --at 0:00 --said "Osmond Tarrick"');
  });
});
