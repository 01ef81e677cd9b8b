// What floodbar.hpp has besides floodbar::calculate(): handles, rows, operators, errors.

#include <cmath>
#include <floodbar.hpp>
#include <iostream>
#include <memory>
#include <nlohmann/json.hpp>
#include <type_traits>

using json = nlohmann::ordered_json;

namespace {

int passed, failed;

void check(bool good, const char *what)
{
    ++(good ? passed : failed);
    if (!good)
        std::cout << "failed: " << what << '\n';
}

// Whether a call is refused with this status, at this field.
template <class Call> bool refused(floodbar_status status, const std::string &field, Call call)
{
    try {
        call();
    } catch (const floodbar::Error &error) {
        const bool good = error.status() == status && error.field() == field &&
                          error.code() == std::string(floodbar_status_text(status)) &&
                          std::string(error.what()).rfind(error.code(), 0) == 0;
        if (!good)
            std::cout << error.what() << ": " << error.text() << '\n';
        return good;
    }
    return false;
}

template <class Call> bool cut_short(Call call)
{
    try {
        call();
    } catch (const std::invalid_argument &) {
        return true;
    }
    return false;
}

const std::string ID = "ink.usage";
const std::string REQUEST = R"({"mesh": "77-55", "ink": "plastisol", "printed_area": "300 cm2", "prints": 50})";
const std::string COLUMNS = R"({"inputs": ["/prints", "/waste_fraction"], "outputs": [{"at": "/mass_to_mix", "unit": "g"}]})";

void errors()
{
    const auto ask = [](const char *request) { return [request] { floodbar::calculate("mesh.geometry", request); }; };
    check(refused(FLOODBAR_UNKNOWN_FIELD, "/mehs", ask(R"({"mehs": "77-55"})")), "a slip");
    // The field is a pointer, in which ~1 stands for a slash; the rest goes through JSON's escapes.
    check(refused(FLOODBAR_UNKNOWN_FIELD, "/a~1b\"\\\n\x01\xc3\xbc", ask("{\"a/b\\\"\\\\\\n\\u0001\\u00fc\": 1}")), "a field with escapes");
    try {
        floodbar::calculate("flash.dwell", R"({"flash": "panel, or ]} \" so", "ink": "plastisol", "cloth": "cotton-jersey-180",
                                               "platen": "rubber-topped"})");
        check(false, "a flash that is not in stock");
    } catch (const floodbar::Error &error) {
        check(json::parse(error.got()) == "panel, or ]} \" so", "what was got");
        check(json::parse(error.allowed()) == json({"panel-flash", "quartz-flash"}), "what is allowed");
    }
    const floodbar::Error bare(FLOODBAR_TOO_LONG, "");
    check(bare.field().empty() && bare.allowed() == "[]" && bare.got() == "null" && bare.what() == std::string("too_long"),
          "a status without a text");
    for (const char *text : {"{", "{\"error\":{", "{\"error\":{\"field\"", "{\"error\":{\"field\":", "{\"error\":{\"field\":\"\\"})
        check(floodbar::Error(FLOODBAR_INTERNAL, text).status() == FLOODBAR_INTERNAL, "a text that is cut off does no harm");
    const std::string zero("{}\0", 3);
    check(cut_short([&] { floodbar::calculate("mesh.geometry", zero); }), "a zero byte in a request");
    check(cut_short([&] { floodbar::solve(ID, REQUEST, zero); }), "a zero byte in a specification");
}

void operators()
{
    floodbar::Cache cache(8);
    const std::string window = R"([{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}, 1])";
    const json first = json::parse(floodbar::calculate_many("dryer.window", window, &cache));
    check(first.size() == 2 && first[0].contains("recommended") && first[1].contains("error"), "an entry for each request");
    check(json::parse(floodbar::calculate_many("dryer.window", window, &cache)) == first, "the same from the cache");
    check(cache.counts().hits > 0 && cache.counts().misses > 0, "the cache was asked");
    check(json::parse(floodbar::calculate_many("dryer.window", window)) == first, "the same without a cache");
    check(refused(FLOODBAR_WRONG_TYPE, "", [] { floodbar::calculate_many(ID, "{}"); }), "no list of requests");

    const json swept = json::parse(floodbar::sweep(
        ID, REQUEST, R"({"vary": "/over_mesh", "from": "0 um", "to": "40 um", "points": 3, "want": ["/wet_film"]})"));
    check(swept.at("/columns/0/values"_json_pointer).size() == 3, "a sweep");
    check(refused(FLOODBAR_MISSING_FIELD, "/vary", [] { floodbar::sweep(ID, REQUEST, "{}"); }), "nothing varied");
    const std::string kilogram = R"({"vary": "/prints", "from": 1, "to": 10000, "want": "/mass_to_mix", "equals": "1 kg"})";
    check(json::parse(floodbar::solve(ID, REQUEST, kilogram)).contains("reached"), "a search");
    check(refused(FLOODBAR_NO_SOLUTION, "/equals",
                  [] {
                      floodbar::solve(ID, REQUEST,
                                      R"({"vary": "/prints", "from": 1, "to": 2, "want": "/mass_to_mix", "equals": "1000 kg"})");
                  }),
          "a search that finds nothing");

    const std::uint8_t pixels[] = {255, 255, 255, 255, 0, 255, 255, 255, 255};
    const std::string spec = R"({"pixels_wide": 3, "pixels_high": 3, "resolution": "100 /cm", "ink": "dark"})";
    check(json::parse(floodbar::measure_artwork(pixels, 9, spec)).contains("printed_area"), "pixels are measured");
    check(refused(FLOODBAR_IMPOSSIBLE, "/pixels_high", [&] { floodbar::measure_artwork(pixels, 8, spec); }), "a pixel too few");
    check(json::parse(floodbar::catalogue()).at("calculations").size() > 10, "the catalogue");
    check(floodbar::version() == floodbar_version(), "the version");
}

void rows()
{
    static_assert(!std::is_copy_constructible_v<floodbar::Prepared> && std::is_nothrow_move_constructible_v<floodbar::Prepared>);
    static_assert(!std::is_copy_constructible_v<floodbar::Cache> && std::is_nothrow_move_constructible_v<floodbar::Cache>);
    floodbar::Prepared first(ID, REQUEST, COLUMNS);
    const floodbar::Prepared prepared = std::move(first);
    const floodbar::Rows done = prepared.run({{50, 100, 50}, {0.1, 0.1, -1}}, 1);
    check(done.status == std::vector<floodbar_status>{FLOODBAR_SUCCESS, FLOODBAR_SUCCESS, FLOODBAR_OUT_OF_RANGE}, "a status a row");
    check(done.outputs[0][0] > 0 && done.outputs[0][1] > done.outputs[0][0] && std::isnan(done.outputs[0][2]), "a number a row");
    check(done.cautions.size() == 3 && done.limits.size() == 3, "cautions and limits a row");

    // To the last bit what the answer in full says.
    const json answer = json::parse(prepared.explain({50, 0.1})).at("mass_to_mix");
    check(answer.at("unit") == "g" && answer.at("value").get<double>() == done.outputs[0][0], "a row in full");
    check(refused(FLOODBAR_OUT_OF_RANGE, "/waste_fraction", [&] { prepared.explain({50, -1}); }), "what is wrong with a row");
    check(refused(FLOODBAR_IMPOSSIBLE, "/inputs", [&] { prepared.explain({}); }), "a row of nothing");

    const double prints[] = {50}, waste[] = {0.1};
    double mass[] = {0};
    prepared.run(1, {prints, waste}, {mass});
    check(mass[0] == done.outputs[0][0], "columns of the caller's own");
    check(refused(FLOODBAR_IMPOSSIBLE, "", [&] { prepared.run({{50}}, 1); }), "a column too few");
    check(refused(FLOODBAR_IMPOSSIBLE, "", [&] { prepared.run({{50}, {0.1}}, 2); }), "an output too many");
    check(refused(FLOODBAR_NULL_POINTER, "", [&] { prepared.run(1, {prints, nullptr}, {mass}); }), "a column that is not there");
    check(cut_short([&] { prepared.run({{50, 60}, {0.1}}, 1); }), "columns of different lengths");
    check(prepared.run({{}, {}}, 1).status.empty(), "no rows");
    check(refused(FLOODBAR_UNKNOWN_FIELD, "/inputs/0",
                  [] { floodbar::Prepared(ID, REQUEST, R"({"inputs": ["/nowhere"], "outputs": []})"); }),
          "a column of nothing");

    std::unique_ptr<floodbar::Cache> cache = std::make_unique<floodbar::Cache>(4);
    const floodbar::Prepared cached("exposure.step", R"({"time": "80 s", "solid_step": 7})", R"({"inputs": [], "outputs": ["/time"]})",
                                    cache.get());
    cache.reset();
    double time = 0;
    cached.run(1, {}, {&time});
    check(std::fabs(time - 80) < 1e-9 && json::parse(cached.explain({})).contains("time"),
          "what was prepared outlives its cache");
}

} // namespace

int main()
{
    errors();
    operators();
    rows();
    std::cout << passed << " passed, " << failed << " failed\n";
    return failed == 0 && passed > 0 ? 0 : 1;
}
