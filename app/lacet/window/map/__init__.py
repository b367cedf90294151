"""The map under the sheet.

`scene` says what is drawn, `relief` shades the ground, `page` and `map.js` are the page, `web` the engine
that shows it, `panel` joins them to the session. Only `web`, `tiles` and `panel` know Qt.
"""
