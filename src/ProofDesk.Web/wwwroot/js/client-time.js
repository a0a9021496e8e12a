// Moments in the visitor's own zone, with its name. Without this file they stand in the shop's zone.
const how = {
  weekday: "short",
  day: "numeric",
  month: "short",
  year: "numeric",
  hour: "2-digit",
  minute: "2-digit",
  timeZoneName: "short",
};
// The visitor's own way of writing dates where it is the page's language, otherwise that language's.
const page = document.documentElement.lang;
const written = navigator.languages.find((tag) => tag.split("-")[0] === page) ?? page;
for (const time of document.querySelectorAll("time[data-moment]")) {
  // What the shop said stays to be read: hover, or the title in a reader.
  time.title = time.textContent;
  time.textContent = new Intl.DateTimeFormat(written, how).format(new Date(time.dateTime));
}
