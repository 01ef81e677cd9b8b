// Runs the shared vectors through the C library from C++: vectors OUT.jsonl VECTORS.json...

#include <algorithm>
#include <cmath>
#include <exception>
#include <floodbar.h>
#include <fstream>
#include <iostream>
#include <memory>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

// Objects keep the order they were written in: of two unknown fields, the library names the first.
using json = nlohmann::ordered_json;

namespace floodbar {

struct Free {
    void operator()(char *text) const noexcept { floodbar_free(text); }
};

// A text of the library's, freed with its holder.
using Text = std::unique_ptr<char, Free>;

struct Reply {
    floodbar_status status;
    Text text;
};

Reply calculate(const std::string &id, const std::string &request)
{
    char *text = nullptr;
    const floodbar_status status = floodbar_calculate(id.c_str(), request.c_str(), &text);
    return {status, Text(text)};
}

} // namespace floodbar

namespace {

// One entry of "want": null for absence, {value, within} for a number, anything else as it stands.
bool fits(const json &want, const json *got)
{
    if (want.is_null())
        return got == nullptr;
    if (got == nullptr)
        return false;
    if (want.is_object())
        return got->is_number() &&
               std::fabs(got->get<double>() - want.at("value").get<double>()) <= want.at("within").get<double>();
    return *got == want;
}

bool answer_fits(const std::string &name, const json &want, const json &answer)
{
    bool good = true;
    for (const auto &[place, wanted] : want.items()) {
        const json::json_pointer pointer(place);
        const json *got = answer.contains(pointer) ? &answer.at(pointer) : nullptr;
        if (!fits(wanted, got)) {
            std::cout << name << ": " << place << " is " << (got ? got->dump() : "absent") << '\n';
            good = false;
        }
    }
    return good;
}

// A list must hold every entry that is wanted; everything else must be equal.
bool error_fits(const std::string &name, const json &want, const json &error)
{
    bool good = true;
    for (const auto &[member, wanted] : want.items()) {
        const json got = error.value(member, json());
        const auto held = [&got](const json &entry) { return std::find(got.begin(), got.end(), entry) != got.end(); };
        const bool same = wanted.is_array() ? got.is_array() && std::all_of(wanted.begin(), wanted.end(), held)
                                            : got == wanted;
        if (!same) {
            std::cout << name << ": " << member << " is " << got.dump() << '\n';
            good = false;
        }
    }
    return good;
}

bool passes(const json &vector, std::ostream &out)
{
    const std::string name = vector.at("name");
    const std::string request = vector.contains("text") ? vector.at("text").get<std::string>() : vector.at("request").dump();
    const auto [status, text] = floodbar::calculate(vector.at("calculation"), request);
    out << text.get() << '\n';
    const json answer = json::parse(text.get());
    if (vector.contains("want") == vector.contains("error"))
        throw std::runtime_error(name + ": a vector has one of want and error");
    if (status == FLOODBAR_SUCCESS && vector.contains("want"))
        return answer_fits(name, vector.at("want"), answer);
    if (status != FLOODBAR_SUCCESS && vector.contains("error"))
        return error_fits(name, vector.at("error"), answer.at("error")) &&
               answer.at("error").at("code") == floodbar_status_text(status);
    std::cout << name << ": " << floodbar_status_text(status) << ": "
              << answer.value("error", json::object()).value("message", "") << '\n';
    return false;
}

} // namespace

int main(int count, char **arguments)
try {
    if (count < 3) {
        std::cerr << "usage: vectors OUT.jsonl VECTORS.json...\n";
        return 2;
    }
    std::ofstream out(arguments[1]);
    int passed = 0, failed = 0;
    for (int file = 2; file < count; file++) {
        std::ifstream in(arguments[file]);
        if (!in)
            throw std::runtime_error(std::string("cannot read ") + arguments[file]);
        const json vectors = json::parse(in);
        if (!vectors.is_array())
            throw std::runtime_error(std::string("no list of vectors: ") + arguments[file]);
        for (const json &vector : vectors)
            ++(passes(vector, out) ? passed : failed);
    }
    out.close();
    if (!out)
        throw std::runtime_error("cannot write the answers");
    std::cout << passed << " passed, " << failed << " failed\n";
    return failed == 0 && passed > 0 ? 0 : 1;
} catch (const std::exception &fault) {
    std::cerr << fault.what() << '\n';
    return 2;
}
