#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string_view>
#include <utility>
#include <variant>

#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "page/print/print.h"
#include "page/rules.h"

#ifdef YUBIFU_PDF
#include <cairo-pdf.h>
#include <fontconfig/fontconfig.h>
#include <librsvg/rsvg.h>
#endif

namespace yubifu::page {
namespace {

base::Outcome<std::vector<std::string>> refusal(std::string message, std::string hint) {
  return {std::nullopt, {report(rule::no_pdf, std::nullopt, std::move(message), std::move(hint))}};
}

#ifdef YUBIFU_PDF

constexpr double kPointsPerMillimetre = 72 / 25.4;

struct Release {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(GError* error) const { g_error_free(error); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};

template <typename Object>
using Owned = std::unique_ptr<Object, Release>;

// A document of ours, parsed. Null when there is no memory for it.
Owned<RsvgHandle> parsed(const std::string& svg) {
  GError* error = nullptr;
  Owned<RsvgHandle> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error));
  const Owned<GError> owned(error);
  return handle;
}

// The width of the ink of a text, in units of its size; 0 where that is not known.
double ink(const std::string& text, TextWeight weight) {
  constexpr double kSize = 100;
  const auto handle = parsed(svg_of_text(text, weight, kSize));
  if (!handle) return 0;
  const RsvgRectangle page{0, 0, kSize, kSize};
  RsvgRectangle box{};
  GError* error = nullptr;
  const bool done =
      rsvg_handle_get_geometry_for_layer(handle.get(), "#text", &page, &box, nullptr, &error);
  const Owned<GError> owned(error);
  return done ? box.width / kSize : 0;
}

// librsvg tells where ink lies: between two bars, where a text begins and ends with its spaces.
double advance(const std::string& text, TextWeight weight) {
  constexpr std::string_view kBar = "|";
  const double bars = ink(fmt::format("{0}{0}", kBar), weight);
  return std::max(0.0, ink(fmt::format("{0}{1}{0}", kBar, text), weight) - bars);
}

bool has_a_font(char32_t letter) {
  FcCharSet* letters = FcCharSetCreate();
  FcCharSetAddChar(letters, letter);
  FcPattern* wanted = FcPatternCreate();
  FcPatternAddCharSet(wanted, FC_CHARSET, letters);
  FcObjectSet* nothing = FcObjectSetCreate();
  FcFontSet* fonts = FcFontList(nullptr, wanted, nothing);
  const bool found = fonts != nullptr && fonts->nfont > 0;
  if (fonts != nullptr) FcFontSetDestroy(fonts);
  FcObjectSetDestroy(nothing);
  FcPatternDestroy(wanted);
  FcCharSetDestroy(letters);
  return found;
}

// Those of ASCII are in every font.
void add_letters(std::set<char32_t>& letters, std::string_view text) {
  while (!text.empty()) {
    const base::CodePoint next = base::first_code_point(text);
    if (next.size > 1) letters.insert(next.value);
    text.remove_prefix(next.size);
  }
}

// What stands as empty boxes in the file, told once.
base::Diagnostics letters_without_font(const std::vector<Sheet>& sheets) {
  constexpr std::size_t kShown = 8;
  std::set<char32_t> letters;
  for (const Sheet& sheet : sheets) {
    for (const Item& item : sheet.items) {
      if (const auto* text = std::get_if<TextShape>(&item.shape)) add_letters(letters, text->text);
      const auto* stack = std::get_if<StackShape>(&item.shape);
      if (stack == nullptr) continue;
      for (const auto& character : stack->characters) add_letters(letters, character.text);
    }
  }
  std::vector<std::string> missing;
  for (const char32_t letter : letters) {
    if (!has_a_font(letter)) base::append_utf8(missing.emplace_back(), letter);
  }
  if (missing.empty()) return {};
  if (missing.size() > kShown) {
    missing.resize(kShown);
    missing.emplace_back("…");
  }
  return {report(rule::no_letter, std::nullopt,
                 base::message("no font of this computer has {}", fmt::join(missing, " ")),
                 base::message("an empty box stands for each; install a font of that script, or "
                               "write .html, which shows them wherever there is one"))};
}

cairo_status_t append_bytes(void* out, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(out)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

void set_facts(cairo_surface_t* surface, const DocumentFacts& facts) {
  const auto set = [&](cairo_pdf_metadata_t key, const std::string& value) {
    cairo_pdf_surface_set_metadata(surface, key, value.c_str());
  };
  if (!facts.title.empty()) set(CAIRO_PDF_METADATA_TITLE, facts.title);
  if (!facts.author.empty()) set(CAIRO_PDF_METADATA_AUTHOR, facts.author);
  set(CAIRO_PDF_METADATA_CREATOR, "yubifu");
  // No date, so that the same score gives the same file.
  set(CAIRO_PDF_METADATA_CREATE_DATE, "");
}

// What librsvg says against a sheet; nothing when it is drawn.
std::optional<std::string> draw_sheet(cairo_t* context, const Sheet& sheet,
                                      const TextMeasure& measure) {
  const auto handle = parsed(svg_document({sheet}, measure));
  if (!handle) return base::message("the page cannot be read by librsvg");
  const RsvgRectangle page{0, 0, sheet.width * kPointsPerMillimetre,
                           sheet.height * kPointsPerMillimetre};
  GError* error = nullptr;
  const bool done = rsvg_handle_render_document(handle.get(), context, &page, &error);
  const Owned<GError> owned(error);
  return done ? std::nullopt : std::optional<std::string>(error->message);
}

#endif

}  // namespace

#ifdef YUBIFU_PDF

base::Outcome<std::vector<std::string>> pdf_document(const std::vector<Sheet>& sheets,
                                                     const DocumentFacts& facts) {
  std::string bytes;
  const Owned<cairo_surface_t> surface(
      cairo_pdf_surface_create_for_stream(append_bytes, &bytes, 0, 0));
  set_facts(surface.get(), facts);
  const Owned<cairo_t> context(cairo_create(surface.get()));
  // librsvg heeds no length of a text, so each is measured once, to be stretched by hand.
  std::map<std::pair<std::string, TextWeight>, double> known;
  const TextMeasure measure = [&](const std::string& text, TextWeight weight) {
    const auto [found, fresh] = known.try_emplace({text, weight}, 0.0);
    if (fresh) found->second = advance(text, weight);
    return found->second;
  };
  for (const Sheet& sheet : sheets) {
    cairo_pdf_surface_set_size(surface.get(), sheet.width * kPointsPerMillimetre,
                               sheet.height * kPointsPerMillimetre);
    if (const auto fault = draw_sheet(context.get(), sheet, measure)) {
      return refusal(base::message("the PDF cannot be made: {}", *fault), {});
    }
    cairo_show_page(context.get());
  }
  cairo_surface_finish(surface.get());
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    return refusal(base::message("the PDF cannot be made: {}", cairo_status_to_string(status)), {});
  }
  return {std::vector{std::move(bytes)}, letters_without_font(sheets)};
}

#else

base::Outcome<std::vector<std::string>> pdf_document(const std::vector<Sheet>&,
                                                     const DocumentFacts&) {
  return refusal(base::message("this program was built without librsvg and cairo, which make PDF"),
                 base::message("write .html, open it in a browser and print it into a file"));
}

#endif

}  // namespace yubifu::page
