"""The yardstick: the chat library's bare echo bot, all defaults."""

import os

from telegram import Update
from telegram.ext import Application, ContextTypes, MessageHandler, filters


async def echo(update: Update, _: ContextTypes.DEFAULT_TYPE) -> None:
    """Send the text back."""
    if update.message and update.message.text:
        await update.message.reply_text(update.message.text)


if __name__ == "__main__":
    base = os.environ["PERPEND_API_URL"]
    app = Application.builder().token(os.environ["PERPEND_TOKEN"]).base_url(f"{base}/bot").build()
    app.add_handler(MessageHandler(filters.TEXT, echo))
    app.run_polling()
