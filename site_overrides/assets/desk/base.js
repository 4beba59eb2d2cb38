"use strict";
// What every part of the desk uses. All words stand in the page: #desk-data. Each file adds one part to `desk`.
const desk = { data: JSON.parse(document.getElementById("desk-data").textContent), chosen: null };

desk.one = (selector, root = document) => root.querySelector(selector);
desk.all = (selector, root = document) => [...root.querySelectorAll(selector)];
desk.byId = (id) => document.getElementById(id);
desk.say = (phrase, gaps = {}) => desk.data.words[phrase].replace(/\{(\w+)\}/g, (whole, gap) => gaps[gap] ?? whole);

// A new element: its tag, what it has, what stands in it. Text is always text, never markup.
desk.make = (tag, properties = {}, ...inside) => {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...inside);
  return made;
};

// The day on this computer, as year-month-day.
desk.today = () => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
};
