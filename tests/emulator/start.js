// Starts the emulator and mends what keeps a bot of the real platform from working with it.
// Usage: node start.js FOLDER_OF_NODE_MODULES PORT
const path = require("path");
const TelegramServer = require(path.resolve(process.argv[2], "node_modules", "telegram-test-api"));

const server = new TelegramServer({ port: Number(process.argv[3]), host: "127.0.0.1", storeTimeout: 600 });
const app = server.webServer;
const told = (res, result) => res.json({ ok: true, result });

// The library insists on is_bot; the emulator leaves it out.
app.all("/bot:token/getMe", (_req, res) =>
  told(res, { id: 666, is_bot: true, first_name: "Test", username: "TestNameBot", supports_inline_queries: true }));

// The real platform holds a poll open; the emulator answers at once, and a poller would spin.
app.all("/bot:token/getUpdates", (_req, _res, next) => setTimeout(next, 50));

// Dates are seconds; the emulator gives milliseconds.
const add = server.addBotMessage.bind(server);
server.addBotMessage = (body, token) => {
  const message = add(body, token);
  return { ...message, date: Math.floor(message.date / 1000), from: { id: 666, is_bot: true, first_name: "Test" } };
};

// An edit gives the message back; the emulator gives null.
app.all("/bot:token/editMessageText", (req, res) => {
  server.editMessageText(req.body);
  told(res, { message_id: Number(req.body.message_id), date: 1, chat: { id: Number(req.body.chat_id), type: "private" } });
});

// A pressed button is answered with true; the menu is not known to the emulator at all.
for (const [method, result] of [["answerCallbackQuery", true], ["getMyCommands", []], ["setMyCommands", true]]) {
  app.all(`/bot:token/${method}`, (_req, res) => told(res, result));
}

// What is mended here stands behind the emulator's own routes: bring it in front of them, behind the readers of bodies.
const { stack } = app._router;
const mended = stack.splice(stack.length - 6, 6);
const first = stack.findIndex((layer) => layer.route);
stack.splice(first, 0, ...mended);

server.start().then(() => console.log("ready"));
