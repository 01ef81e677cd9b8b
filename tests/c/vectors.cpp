// Runs the shared vectors through floodbar.hpp: vectors OUT.jsonl VECTORS.json...

#include <algorithm>
#include <cmath>
#include <exception>
#include <floodbar.hpp>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

// Objects keep the order they were written in: of two unknown fields, the library names the first.
using json = nlohmann::ordered_json;

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

// What an exception says is what the error's text says, read by a whole parser of JSON.
bool says_the_same(const std::string &name, const floodbar::Error &error)
{
    const json text = json::parse(error.text()).at("error");
    const bool same = error.status() != FLOODBAR_SUCCESS && text.at("code") == error.code() && text.at("field") == error.field() &&
                      text.at("message") == error.message() && text.value("got", json()) == json::parse(error.got()) &&
                      text.value("allowed", json::array()) == json::parse(error.allowed());
    if (!same)
        std::cout << name << ": the exception says something else than " << error.text() << '\n';
    return same;
}

bool passes(const json &vector, std::ostream &out)
{
    const std::string name = vector.at("name");
    const std::string request = vector.contains("text") ? vector.at("text").get<std::string>() : vector.at("request").dump();
    if (vector.contains("want") == vector.contains("error"))
        throw std::runtime_error(name + ": a vector has one of want and error");
    try {
        const std::string answer = floodbar::calculate(vector.at("calculation"), request);
        out << answer << '\n';
        if (vector.contains("want"))
            return answer_fits(name, vector.at("want"), json::parse(answer));
        std::cout << name << ": an answer\n";
        return false;
    } catch (const floodbar::Error &error) {
        out << error.text() << '\n';
        if (vector.contains("error"))
            return says_the_same(name, error) && error_fits(name, vector.at("error"), json::parse(error.text()).at("error"));
        std::cout << name << ": " << error.what() << '\n';
        return false;
    }
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
