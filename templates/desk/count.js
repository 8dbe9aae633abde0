// An extra: counts the parts of a text message while it is typed. Without it the count stays that of the text as the page was opened.
// 3GPP TS 23.038: 160 characters of the GSM alphabet in one part (153 each when joined), else 70 (67 when joined).
"use strict";
const basic = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà";
const twice = "^{}\\[~]|€\f";
function units(text) {
  let count = 0;
  for (const sign of text) {
    if (basic.includes(sign)) count += 1;
    else if (twice.includes(sign)) count += 2;
    else return null;
  }
  return count;
}
function parts(text) {
  const plain = units(text);
  const [length, one, joined] = plain === null ? [text.length, 70, 67] : [plain, 160, 153];
  return length <= one ? 1 : Math.ceil(length / joined);
}
function say(area, line) {
  const text = area.value;
  const letters = [...text].length + (text.length === 1 ? " character" : " characters");
  const count = parts(text);
  line.textContent = area.dataset.count === "sms" ? letters + ", " + count + (count === 1 ? " part" : " parts") : letters;
}
for (const area of document.querySelectorAll("textarea[data-count]")) {
  const line = document.getElementById("count");
  if (!line || area.id !== "text") continue;
  let wait = 0;
  area.addEventListener("input", () => { clearTimeout(wait); wait = setTimeout(say, 300, area, line); });
}
