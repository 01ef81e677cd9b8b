/*
 * Floodbar from C++17: handles that free themselves, and exceptions that carry what an error says.
 *
 * JSON goes in and out as text, for whatever library of JSON a program has. What each call does stands in floodbar.h.
 * A text with a zero byte in it, which C would cut short, is std::invalid_argument.
 *
 * SPDX-License-Identifier: MIT OR Apache-2.0
 */

#ifndef FLOODBAR_HPP
#define FLOODBAR_HPP

#include "floodbar.h"

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <map>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace floodbar {

namespace detail {

struct FreeText {
    void operator()(char *text) const noexcept { floodbar_free(text); }
};
struct FreeCache {
    void operator()(floodbar_cache *cache) const noexcept { floodbar_cache_free(cache); }
};
struct FreePrepared {
    void operator()(floodbar_prepared *prepared) const noexcept { floodbar_prepared_free(prepared); }
};
using Text = std::unique_ptr<char, FreeText>;

// Reads the JSON of the library's errors, of which it knows the form: without blanks, and only control characters escaped by number.
struct Reader {
    const char *at;

    bool take(const char *start)
    {
        const std::size_t length = std::strlen(start);
        const bool here = std::strncmp(at, start, length) == 0;
        at += here ? length : 0;
        return here;
    }

    std::string string()
    {
        std::string read;
        for (take("\""); *at && *at != '"'; ++at) {
            if (*at != '\\' || !at[1]) {
                read += *at;
                continue;
            }
            switch (*++at) {
            case 'b': read += '\b'; break;
            case 'f': read += '\f'; break;
            case 'n': read += '\n'; break;
            case 'r': read += '\r'; break;
            case 't': read += '\t'; break;
            case 'u': read += static_cast<char>(number()); break;
            default: read += *at;
            }
        }
        take("\"");
        return read;
    }

    // One value as it is written, lists and objects in it and all.
    std::string value()
    {
        const char *const from = at;
        for (int depth = 0; *at;) {
            if (*at == '"') {
                string();
                continue;
            }
            if (depth == 0 && (*at == ',' || *at == '}'))
                break;
            depth += *at == '[' || *at == '{';
            depth -= *at == ']' || *at == '}';
            ++at;
        }
        return std::string(from, at);
    }

private:
    // Four hexadecimal digits; stands on the last one afterwards.
    int number()
    {
        int read = 0;
        for (int digit = 0; digit < 4 && at[1]; ++digit) {
            ++at;
            read = 16 * read + (*at <= '9' ? *at - '0' : (*at | ' ') - 'a' + 10);
        }
        return read;
    }
};

// The members of an error, each as it is written.
inline std::map<std::string, std::string> members(const std::string &text)
{
    std::map<std::string, std::string> found;
    Reader reader{text.c_str()};
    if (reader.take("{\"error\":{"))
        while (*reader.at == '"') {
            const std::string name = reader.string();
            reader.take(":");
            found[name] = reader.value();
            reader.take(",");
        }
    return found;
}

} // namespace detail

/** The version of the library that is loaded. */
inline std::string version() { return floodbar_version(); }

/** Why there is no answer. */
class Error : public std::runtime_error {
public:
    /** The error of a call; the text may be empty, for calls that give a status alone. */
    Error(floodbar_status status, const std::string &text) : Error(status, text, detail::members(text)) {}

    /** One of FLOODBAR_BAD_JSON and so on. */
    floodbar_status status() const noexcept { return status_; }
    /** The name of the status, such as "bad_quantity". */
    const char *code() const noexcept { return floodbar_status_text(status_); }
    /** The field at fault: a JSON pointer into the request; empty where it is none. */
    const std::string &field() const noexcept { return field_; }
    /** What is wrong, in words. */
    const std::string &message() const noexcept { return message_; }
    /** The value at fault, as JSON; "null" where there is none. */
    const std::string &got() const noexcept { return got_; }
    /** What is allowed in its place: a list, as JSON. */
    const std::string &allowed() const noexcept { return allowed_; }
    /** All of it, as the library wrote it: JSON, or empty. */
    const std::string &text() const noexcept { return text_; }

private:
    using Members = std::map<std::string, std::string>;

    Error(floodbar_status status, const std::string &text, const Members &members)
        : std::runtime_error(said(status, members)), status_(status), field_(read(members, "field")),
          message_(read(members, "message")), got_(raw(members, "got", "null")), allowed_(raw(members, "allowed", "[]")), text_(text)
    {
    }

    static std::string raw(const Members &members, const char *name, const char *absent)
    {
        const auto found = members.find(name);
        return found == members.end() ? absent : found->second;
    }

    static std::string read(const Members &members, const char *name)
    {
        const std::string written = raw(members, name, "");
        return detail::Reader{written.c_str()}.string();
    }

    static std::string said(floodbar_status status, const Members &members)
    {
        const std::string field = read(members, "field"), message = read(members, "message");
        return floodbar_status_text(status) + (field.empty() ? "" : " " + field) + (message.empty() ? "" : ": " + message);
    }

    floodbar_status status_;
    std::string field_, message_, got_, allowed_, text_;
};

namespace detail {

inline const char *c_text(const std::string &text)
{
    if (text.find('\0') != std::string::npos)
        throw std::invalid_argument("floodbar: a text has a zero byte in it");
    return text.c_str();
}

// Before any call that may have another form in a library that this header does not describe.
inline void require_abi()
{
    if (floodbar_abi() != FLOODBAR_ABI)
        throw std::runtime_error("floodbar: version " + version() + " of the library has the binary interface " +
                                 std::to_string(floodbar_abi()) + ", this program was compiled for " + std::to_string(FLOODBAR_ABI));
}

// The text of a call that takes where to put it.
template <class Call> std::string answer(Call call)
{
    require_abi();
    char *given = nullptr;
    const floodbar_status status = call(&given);
    const Text text(given);
    std::string read = given ? given : "";
    if (status != FLOODBAR_SUCCESS)
        throw Error(status, read);
    return read;
}

} // namespace detail

/** Keeps the numbers of runs through heat. Threads may share one. */
class Cache {
public:
    explicit Cache(std::size_t entries)
    {
        detail::require_abi();
        handle_.reset(floodbar_cache_new(entries));
    }

    struct Counts {
        std::uint64_t hits, misses;
    };

    /** How often a run was found, and how often it was not. */
    Counts counts() const
    {
        Counts counts{};
        const floodbar_status status = floodbar_cache_counts(handle_.get(), &counts.hits, &counts.misses);
        if (status != FLOODBAR_SUCCESS)
            throw Error(status, "");
        return counts;
    }

    /** The handle, for calls of floodbar.h; it stays the cache's own. */
    floodbar_cache *get() const noexcept { return handle_.get(); }

private:
    std::unique_ptr<floodbar_cache, detail::FreeCache> handle_;
};

namespace detail {

inline floodbar_cache *handle(const Cache *cache) { return cache ? cache->get() : nullptr; }

} // namespace detail

/** Answers a request: JSON in, JSON out. */
inline std::string calculate(const std::string &id, const std::string &request)
{
    const char *const name = detail::c_text(id), *const asked = detail::c_text(request);
    return detail::answer([&](char **out) { return floodbar_calculate(name, asked, out); });
}

/** Answers a list of requests; a bad one has its error in its place. */
inline std::string calculate_many(const std::string &id, const std::string &requests, const Cache *cache = nullptr)
{
    const char *const name = detail::c_text(id), *const asked = detail::c_text(requests);
    return detail::answer([&](char **out) { return floodbar_calculate_many(detail::handle(cache), name, asked, out); });
}

/** Answers a calculation at many points of one of its inputs. */
inline std::string sweep(const std::string &id, const std::string &request, const std::string &spec, const Cache *cache = nullptr)
{
    const char *const name = detail::c_text(id), *const asked = detail::c_text(request), *const how = detail::c_text(spec);
    return detail::answer([&](char **out) { return floodbar_sweep(detail::handle(cache), name, asked, how, out); });
}

/** Finds the value of an input at which a number of the answer is what is wanted. */
inline std::string solve(const std::string &id, const std::string &request, const std::string &spec, const Cache *cache = nullptr)
{
    const char *const name = detail::c_text(id), *const asked = detail::c_text(request), *const how = detail::c_text(spec);
    return detail::answer([&](char **out) { return floodbar_solve(detail::handle(cache), name, asked, how, out); });
}

/** Measures a separation from its pixels. */
inline std::string measure_artwork(const std::uint8_t *pixels, std::size_t length, const std::string &spec)
{
    const char *const how = detail::c_text(spec);
    return detail::answer([&](char **out) { return floodbar_artwork_measure(pixels, length, how, out); });
}

/** All calculations, with the schemas of their requests and answers. */
inline std::string catalogue() { return detail::answer(floodbar_catalogue); }

/** Rows that were worked out: a column for each output, and what became of each row. */
struct Rows {
    std::vector<std::vector<double>> outputs;
    std::vector<floodbar_status> status;
    std::vector<std::uint32_t> cautions, limits;
};

/** A calculation that is ready for rows of numbers. It never changes: threads may share one and run it at once. */
class Prepared {
public:
    /** The columns are JSON, as for floodbar_prepare(); the cache may go before this does. */
    Prepared(const std::string &id, const std::string &request, const std::string &columns, const Cache *cache = nullptr)
    {
        const char *const name = detail::c_text(id), *const asked = detail::c_text(request), *const which = detail::c_text(columns);
        floodbar_prepared *prepared = nullptr;
        detail::answer([&](char **out) { return floodbar_prepare(detail::handle(cache), name, asked, which, &prepared, out); });
        handle_.reset(prepared);
    }

    /** Works out rows between the caller's own columns, which are as floodbar_run() wants them; the last three may be null. */
    void run(std::size_t rows, const std::vector<const double *> &inputs, const std::vector<double *> &outputs,
             floodbar_status *row_status = nullptr, std::uint32_t *row_cautions = nullptr, std::uint32_t *row_limits = nullptr) const
    {
        const double *const no_input[1] = {nullptr};
        double *const no_output[1] = {nullptr};
        const floodbar_status status =
            floodbar_run(handle_.get(), rows, inputs.empty() ? no_input : inputs.data(), inputs.size(),
                         outputs.empty() ? no_output : outputs.data(), outputs.size(), row_status, row_cautions, row_limits);
        if (status != FLOODBAR_SUCCESS)
            throw Error(status, "");
    }

    /** Works out rows into new columns, so many as there are outputs. */
    Rows run(const std::vector<std::vector<double>> &inputs, std::size_t outputs) const
    {
        const std::size_t rows = inputs.empty() ? 0 : inputs.front().size();
        std::vector<const double *> in;
        for (const auto &column : inputs) {
            if (column.size() != rows)
                throw std::invalid_argument("floodbar: input columns have different numbers of rows");
            in.push_back(column.data());
        }
        Rows done{std::vector<std::vector<double>>(outputs, std::vector<double>(rows)), std::vector<floodbar_status>(rows),
                  std::vector<std::uint32_t>(rows), std::vector<std::uint32_t>(rows)};
        std::vector<double *> out;
        for (auto &column : done.outputs)
            out.push_back(column.data());
        run(rows, in, out, done.status.data(), done.cautions.data(), done.limits.data());
        return done;
    }

    /** Answers one row in full, or says what is wrong with it. */
    std::string explain(const std::vector<double> &row) const
    {
        const double none = 0;
        const double *const first = row.empty() ? &none : row.data();
        return detail::answer([&](char **out) { return floodbar_explain(handle_.get(), first, row.size(), out); });
    }

    /** The handle, for calls of floodbar.h; it stays this object's own. */
    const floodbar_prepared *get() const noexcept { return handle_.get(); }

private:
    std::unique_ptr<floodbar_prepared, detail::FreePrepared> handle_;
};

} // namespace floodbar

#endif /* FLOODBAR_HPP */
