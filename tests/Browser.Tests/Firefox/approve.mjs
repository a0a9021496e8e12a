// node approve.mjs LINK script|plain WIDTH light|dark
// A client opens the mailed link in Firefox, ticks, types a name and approves. Says what it saw, line by line.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import puppeteer from "puppeteer-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const [link, mode, width, scheme] = process.argv.slice(2);
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
  headless: true,
  // What "prefers-color-scheme" answers: 0 dark, 1 light.
  extraPrefsFirefox: { "layout.css.prefers-color-scheme.content-override": scheme === "dark" ? 0 : 1 },
});
try {
  const page = await browser.newPage();
  await page.setViewport({ width: Number(width), height: 844 });
  if (mode === "script") {
    page.on("console", (said) => {
      if (said.type() === "error") console.log(`complaint: ${said.text()}`);
    });
  } else {
    // This engine has no order to switch script off, so none arrives.
    await page.setRequestInterception(true);
    page.on("request", (asked) => (new URL(asked.url()).pathname.endsWith(".js") ? asked.abort() : asked.continue()));
  }
  const fits = async (name) => {
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    const theme = await page.evaluate(() => (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light"));
    console.log(`${name}, ${theme}: ${wide > 0 ? `${wide} px too wide` : "fits"}`);
    await page.evaluate(axe);
    const found = await page.evaluate(() => axe.run());
    for (const fault of found.violations) console.log(`${fault.id}: ${fault.nodes.map((n) => n.html).join(" ")}`);
  };
  const press = async (selector) => {
    await Promise.all([page.waitForNavigation(), page.click(selector)]);
  };

  await page.goto(link);
  console.log(await page.$eval("h1", (h) => h.textContent));
  await fits("look");
  await press('a[href$="/approve"]');
  await fits("approve");
  for (const box of await page.$$('form[action$="/confirm"] input[type=checkbox]')) {
    const seen = await box.isVisible();
    if (seen) await box.click();
  }
  await page.type("#Name", "Kim Reed");
  await press('form[action$="/confirm"] button[type=submit]');
  await fits("last look");
  await press('form[action$="/decision"] button[type=submit]');
  await fits("receipt");
  console.log(await page.$eval("h1", (h) => h.textContent));
} finally {
  await browser.close();
}
