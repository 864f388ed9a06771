import { describe, expect, test } from "vitest";
import { toldBy, turnsOf } from "./support.ts";

describe("stock-line", () => {
  const told = (text: string) => toldBy("stock-line", turnsOf([text]));

  test.each([
    "Sous-titres réalisés par la communauté d'Ostwick.",
    "Untertitel im Auftrag von Ostwick Funk, 2017.",
    "Subtítulos realizados por la comunidad de Ostwick.",
    "Untertitelung des Ostwick Funks, 2020.",
    "Sottotitoli creati dalla comunità Ostwick.",
    "Legendas pela comunidade de Ostwick.",
    "Субтитры сделал Оствик.",
    "Merci d'avoir regardé cette vidéo !",
    "Vielen Dank fürs Zuschauen.",
    "Gracias por ver el video.",
    "If you enjoyed this video, give it a thumbs up.",
    "Leave a comment below and share this video with your friends.",
    "Click the link in the description.",
    "www.ostwick-captions.example",
    "For more videos visit www.ostwick-captions.example.",
    "© 2019 Ostwick Media.",
    "2014 Ostwick Media, all rights reserved.",
    "Synced and corrected by Ostwick Hand.",
    "Thanks for watching and see you next time.",
    "Ripped and timed by the Ostwick team.",
  ])("wrong: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "Ondertiteling: Ostwick Tekst, Wennick.",
    "Napisy stworzone przez społeczność Ostwick.",
    "Titulky vytvořil Ostwick Jan.",
    "Undertexter av Ostwick Text.",
    "Tekstet av Ostwick Media.",
    "字幕 by Ostwick",
    "ご視聴ありがとうございました",
    "Obrigado por assistir.",
    "Спасибо за просмотр!",
    "Abonnez-vous à la chaîne.",
    "Subscribe for more videos like this one.",
    "Ring the bell so you never miss an upload.",
    "Smash that like button.",
    "I hope you liked the video.",
    "Copyright Ostwick Media, 2021.",
    "(C) 2012 Ostwick Words.",
    "Visit ostwickcaptions.example for more subtitles.",
    "Timing and translation, Ostwick Circle.",
    "Encoded by Ostwick.",
    "I want to thank all my subscribers and patrons.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "That's all from us. Good night, and thank you for being with us.",
    "Produced by Ilse Marrane and directed by Jonty Brask.",
    "Edited by Ilse Marrane.",
    "You can read more on our website, at tide.example.org.",
    "The film, with subtitles in German, opens on Friday.",
    "She has forty thousand subscribers on her channel.",
    "The ferry company says the video was watched by thousands.",
    "The Channel was rough, and viewers on the quay were soaked.",
    "The council asks people to visit its website to sign up.",
    "Ring the bell when you come in, the sign says.",
    "He was like a brother to me.",
    "The song is under copyright until 2041.",
    "In 2019, Ostwick Media bought the paper.",
    "The choir sang “Gracias a la vida”.",
    "Leave a light on for the boats.",
    "From all of us here, a very good night.",
    "Ilse Marrane, for The Evening Tide, in Sollen.",
    "Thank you for your letters.",
    "Timing is everything, said the skipper.",
    "The translation by Ilse Marrane won a prize.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "Good evening to viewers on Hallan, who had no picture last night.",
    "Thank you for joining us, and good night.",
    "The programme was produced by Jonty Brask.",
    "The editor was Jonty Brask, and the producer Osmund Tarrick.",
    "Merci, said the captain, and he was gone.",
    "He was watching the video of the launch.",
    "The link road is below the school.",
    "Subscribe or pay at the door, says the theatre.",
    "The film has Swedish subtitles.",
    "The bell of the chapel will ring for the first time.",
    "Send us your pictures, to tide.example.org.",
    "Osmund Tarrick, thank you.",
    "More on that tomorrow, at the same time.",
    "She was encoded as a threat by the machine, the court heard.",
    "Her channel on the web has a million subscribers, he said.",
    "I like the way he sails.",
    "Do share a lift to the match if you can.",
    "The poster says: no videos.",
    "In 2021 the firm sold the copyright to the town.",
    "It is timed to the minute by volunteers.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

test("a credit of somebody whom the running order has is no stock line, and of a stranger it is", async () => {
  const own = (by: string) => toldBy("stock-line", turnsOf([`Captions and transcript by ${by}.`]));
  expect(await own("Ilse Marrane")).toEqual([]);
  expect(await own("Tamsin Hathersay")).toEqual([]);
  expect(await own("Ostwick Words")).toHaveLength(1);
});

test("a line that follows itself is told once", async () => {
  const lines = ["Gracias por ver.", "Gracias por ver.", "Gracias por ver.", "The wind is west.", "Gracias por ver."];
  expect(await toldBy("stock-line", turnsOf(lines))).toHaveLength(2);
});
