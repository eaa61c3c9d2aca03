"""How another shaper, HarfBuzz, sets words of thirteen scripts in the fonts of a folder.

Prints a line of JSON a word and font: what was asked, and for every glyph its number, the byte of the word that it begins at,
its advance and its offsets in units of the font. A font sets the words of a script if it has all their letters. No font of the
folder has those of the scripts under FOREIGN: of them, the order of the glyphs and what they stand for is compared.
Word of the command line: the folder."""

import json
import pathlib
import sys

import uharfbuzz as hb

# By script and language. Words of daily use, chosen for what shapes them: ligatures, kerning, marks, joining, local forms.
WORDS = {
    "Latn": {
        "en": "Affluent office waffles AVATAR To Ty Wave fjord façade 1790–1832 “Lot” (5), p. 77 ﬁne Quay",
        "de": "Auflage Straße Über Schiffe Ölkännchen AUFFÄLLIG Öffnung",
        "tr": "İstanbul fırtına fikir ışık ÇİĞ ağaç",
        "ro": "Știință țară ŞI TĂCERE îndrăzneț",
        "nl": "vijf IJssel bíj́na fijn",
        "vi": "Những người Việt Ở đấy nghiệp tự",
        "pl": "Łódź gęś źdźbło ŻÓŁW",
        "ca": "col·lecció paral·lel",
        "cs": "ďábel Ťuhýk žluťoučký kůň",
        "lt": "e\u0301 į̃ i̇̀ Ą̄",
    },
    "Grek": {"el": "Ἀρχὴ φῶς ἁλός ᾠδή ΘΑΛΑΣΣΑ λιμάνι ΰλη Ὀδύσσεια ς"},
    "Cyrl": {
        "ru": "Соль фонари объём ГУДОК подъезд",
        "sr": "пут тамо где бдење ПТИЦА",
        "bg": "вятър жив любов къща",
        "uk": "їжак ґанок Єва мрія",
    },
    "Arab": {
        "ar": "السلام مُحَمَّد لا إله الله كتاب ١٧٩٠ بِسْمِ الْبَحْرِ فلان لآلئ",
        "fa": "پنجره گل چراغ کشتی یک ژاله",
        "ur": "ٹھنڈا ہے ڈاکٹر بڑے",
    },
    "Hebr": {"he": "שָׁלוֹם הַיָּם בְּרֵאשִׁית ספר יצ״א ארץ", "yi": "פֿון ײַ אָנהייב"},
    "Hani": {"ja": "吾輩 港町 灯台 塩 海図 夢浮橋 春夏秋冬 東西南北 花鳥風月 一二三四五六七八九十 々", "zh-Hans": "海 山 人 大海 火山"},
    "Hira": {"ja": "ねこ はーと きゃっと がぎぐ いろはにほへとちりぬるを わかよたれそつねならむ ゝ が は゜"},
    "Kana": {"ja": "ランタン パーティー ヴァイオリン シャッター アイウエオカキクケコ サシスセソタチツテト ヽ"},
}
FOREIGN = {
    "Deva": {"hi": "हिन्दी किताब प्रकाश र्मि क्षेत्र विद्यार्थी"},
    "Taml": {"ta": "தமிழ் கொடி நௌகா பொருள்"},
    "Thai": {"th": "น้ำ ภาษาไทย เก้าอี้"},
    "Hang": {"ko": "한국어 바다 등대"},
    "Khmr": {"km": "ភាសាខ្មែរ ស្រ្តី កោះ"},
}
# What a style may ask for besides.
FEATURES = [{}, {"smcp": 1, "onum": 1}]
RIGHT_TO_LEFT = {"Arab", "Hebr"}


def placed(font, word, script, language, features):
    buffer = hb.Buffer()
    buffer.flags = hb.BufferFlags.REMOVE_DEFAULT_IGNORABLES | hb.BufferFlags.DO_NOT_INSERT_DOTTED_CIRCLE
    buffer.add_utf8(word.encode())
    buffer.direction = "rtl" if script in RIGHT_TO_LEFT else "ltr"
    buffer.script = script
    buffer.language = language
    hb.shape(font, buffer, features)
    return [
        [info.codepoint, info.cluster, place.x_advance, place.x_offset, place.y_offset]
        for info, place in zip(buffer.glyph_infos, buffer.glyph_positions)
    ]


for path in sorted(pathlib.Path(sys.argv[1]).glob("*/*.[ot]tf")):
    face = hb.Face(hb.Blob.from_file_path(str(path)))
    letters = face.unicodes
    axes = [] if not face.has_var_data else [{}, {"wght": 620, "opsz": 20}]
    for place in axes or [{}]:
        font = hb.Font(face)
        if place:
            font.set_variations(place)
        for scripts, foreign in ((WORDS, False), (FOREIGN, True)):
            for script, languages in scripts.items():
                for language, words in languages.items():
                    for word in words.split():
                        has = [ord(letter) in letters for letter in word]
                        if not all(has) and not foreign:
                            continue
                        assert not (foreign and any(has)), (path, word)
                        for features in FEATURES[:1] if foreign else FEATURES:
                            print(json.dumps({
                                "font": str(path), "place": place, "features": features, "script": script,
                                "language": language, "rtl": script in RIGHT_TO_LEFT, "word": word,
                                "glyphs": placed(font, word, script, language, features),
                            }))
