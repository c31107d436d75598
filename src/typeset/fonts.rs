//! The fonts inside the program, in a fixed order. Must never look for a font elsewhere.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::Font;
use typst_kit::fonts::FontStore;

/// The families by preference: the first is made for low vision, the second has letters that the first lacks
/// (Greek, Cyrillic, Vietnamese, arrows), the others one script each. Of Arabic faces, one whose letters are single glyphs:
/// those put together from parts, as its later edition has, are read back doubled.
pub(super) const FAMILIES: [&str; 4] =
    ["Atkinson Hyperlegible Next", "Inter", "Noto Naskh Arabic", "Noto Sans Devanagari"];

/// Capital height of the first family, in em: `sCapHeight / unitsPerEm` of the font file.
pub(super) const CAPITAL_HEIGHT: f64 = 0.668;

pub(super) const FILES: [&[u8]; 8] = [
    include_bytes!("fonts/AtkinsonHyperlegibleNext_400Regular.ttf"),
    include_bytes!("fonts/AtkinsonHyperlegibleNext_700Bold.ttf"),
    include_bytes!("fonts/Inter_400Regular.ttf"),
    include_bytes!("fonts/Inter_700Bold.ttf"),
    include_bytes!("fonts/NotoNaskhArabic_400Regular.ttf"),
    include_bytes!("fonts/NotoNaskhArabic_700Bold.ttf"),
    include_bytes!("fonts/NotoSansDevanagari_400Regular.ttf"),
    include_bytes!("fonts/NotoSansDevanagari_700Bold.ttf"),
];

pub(super) static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FILES.iter().filter_map(|file| Font::new(Bytes::new(*file), 0)).collect());

pub(super) static STORE: LazyLock<FontStore> = LazyLock::new(|| {
    let mut store = FontStore::new();
    for font in FONTS.iter() {
        store.push((font.clone(), font.info().clone()));
    }
    store
});

/// Whether some font has a letter for it.
pub(super) fn covers(character: char) -> bool {
    FONTS.iter().any(|font| font.info().coverage.contains(u32::from(character)))
}

#[cfg(test)]
mod tests {
    use typst::layout::Abs;
    use typst::text::{FontVariant, FontVariations};

    use super::{CAPITAL_HEIGHT, FAMILIES, FONTS, covers};

    #[test]
    fn all_fonts_load_and_the_capital_height_is_that_of_the_file() {
        assert_eq!(FONTS.len(), 2 * FAMILIES.len());
        for (font, family) in FONTS.iter().zip(FAMILIES.iter().flat_map(|family| [*family; 2])) {
            assert_eq!(font.info().family, family);
        }
        for font in &FONTS[..2] {
            let set = font.clone().instantiate(FontVariant::default(), Abs::pt(10.0), &FontVariations::default());
            assert!((set.metrics().cap_height.get() - CAPITAL_HEIGHT).abs() < 1e-6);
        }
    }

    #[test]
    fn european_languages_are_covered() {
        for character in "ŵŷâêîôûẁẃąćęłńóśźżäöüßéèçñåøæœőűșțğışřžďťģķļņūīāĳðþ αβγδ жшщы ≥µ°×–—“”‘’«»…·€→₂".chars()
        {
            assert!(covers(character), "{character}");
        }
    }

    #[test]
    fn arabic_and_devanagari_are_covered() {
        for character in "ابتثجحخدذرزسشصضطظعغفقكلمنهويءآأؤإئةىًٌٍَُِّْ،؛؟٪٠١٢٣٤٥٦٧٨٩ अआइईउऊऋएऐओऔकखगघङचछजझञटठडढणतथदधनपफबभमयरलवशषसह ािीुूृेैोौंःँ़्।॥०१२३४५६७८९ड़ढ़".chars() {
            assert!(covers(character), "{character}");
        }
    }
}
