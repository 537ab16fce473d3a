#include "link/station.h"

#include <gtest/gtest.h>
#include <netdb.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <cstring>
#include <fstream>
#include <functional>
#include <string>
#include <thread>

#include "link/answering.h"
#include "link/channel.h"

namespace weighwright::link {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

/// Looks until something is so, for ten seconds at most; no test waits longer than it must.
bool becomes(const Station& station, const std::function<bool(const InstrumentNow&)>& so) {
  const Clock::time_point begin = Clock::now();
  while (seconds_since(begin) < 10.0) {
    if (so(station.look().front())) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  const InstrumentNow now = station.look().front();
  ADD_FAILURE() << "state " << static_cast<int>(now.state) << ", says: " << now.says << ", value: "
                << (now.values.empty() ? "" : now.values[0].typed + " " + now.values[0].says);
  return false;
}

deck::Register place(const std::string& name, int address, deck::RegisterType type) {
  deck::Register one;
  one.place = name;
  one.address = address;
  one.type = type;
  return one;
}

deck::Instrument quick(deck::LinkKind kind, int port) {
  deck::Instrument instrument;
  instrument.name = "tried";
  instrument.kind = kind;
  instrument.host = "127.0.0.1";
  instrument.port = port;
  instrument.every_s = 0.05;
  instrument.timeout_s = 0.2;
  instrument.stale_s = 0.4;
  return instrument;
}

deck::Instrument modbus_cells(int port) {
  deck::Instrument instrument = quick(deck::LinkKind::modbus_tcp, port);
  instrument.registers = {place("1L", 0, deck::RegisterType::int32),
                          place("1R", 2, deck::RegisterType::float32)};
  instrument.registers[0].unit = deck::LiveUnit::mV;
  instrument.registers[0].scale = 0.001;
  return instrument;
}

/// A peer that does with every connection whatever a test wants, on a free port.
class Peer {
 public:
  using Talk = std::function<void(int fd, const std::atomic<bool>& over)>;

  explicit Peer(Talk talk) : talk_(std::move(talk)) {
    listener_ = Descriptor(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0));
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    auto* const generic = reinterpret_cast<sockaddr*>(&address);
    EXPECT_EQ(::bind(listener_.value(), generic, size), 0);
    EXPECT_EQ(::listen(listener_.value(), 8), 0);
    EXPECT_EQ(::getsockname(listener_.value(), generic, &size), 0);
    port_ = ntohs(address.sin_port);
    thread_ = std::thread([this] { run(); });
  }
  Peer(const Peer&) = delete;
  Peer& operator=(const Peer&) = delete;
  ~Peer() {
    over_ = true;
    thread_.join();
  }
  [[nodiscard]] int port() const { return port_; }
  [[nodiscard]] int connections() const { return connections_; }

 private:
  void run() {
    while (!over_) {
      pollfd waiting{listener_.value(), POLLIN, 0};
      if (::poll(&waiting, 1, 10) <= 0) continue;
      const Descriptor fd(::accept(listener_.value(), nullptr, nullptr));
      ++connections_;
      talk_(fd.value(), over_);
    }
  }

  Talk talk_;
  Descriptor listener_;
  int port_ = 0;
  std::atomic<bool> over_ = false;
  std::atomic<int> connections_ = 0;
  std::thread thread_;
};

/// What a client sent; empty when nothing came for 20 ms or it is gone (then `gone`).
std::string hear(int fd, bool& gone) {
  pollfd waiting{fd, POLLIN, 0};
  if (::poll(&waiting, 1, 20) <= 0) return {};
  char bytes[512];
  const ssize_t count = ::recv(fd, bytes, sizeof bytes, 0);
  gone = count <= 0;
  return gone ? std::string() : std::string(bytes, static_cast<std::size_t>(count));
}

bool say(int fd, const std::string& bytes) {
  return ::send(fd, bytes.data(), bytes.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(bytes.size());
}

/// A peer that answers every question by what `reply` makes of it.
Peer::Talk answering(const std::function<std::string(const std::string&)>& reply) {
  return [reply](int fd, const std::atomic<bool>& over) {
    bool gone = false;
    while (!over && !gone) {
      const std::string question = hear(fd, gone);
      if (question.empty()) continue;
      if (!say(fd, reply(question))) return;
    }
  };
}

/// A sound Modbus answer, put together by hand from the layout (Modbus Application Protocol
/// V1.1b3, 6.3; header of TCP from memory): registers all 0x4640.
std::string sound_answer(const std::string& question) {
  const int count = static_cast<unsigned char>(question[11]);
  std::string data = question.substr(6, 2);
  data += static_cast<char>(2 * count);
  for (int i = 0; i < count; ++i) data += "\x46\x40";
  return question.substr(0, 5) + static_cast<char>(data.size()) + data;
}

std::size_t resident_kB() {
  std::ifstream status("/proc/self/status");
  for (std::string line; std::getline(status, line);) {
    if (line.starts_with("VmRSS:")) return std::stoul(line.substr(6));
  }
  return 0;
}

// ------------------------------------------------------------------------------------ right ways

TEST(Station, ReadsWhatAnAnsweringInstrumentShows) {
  std::atomic<double> left = 1.087;
  deck::Instrument instrument = modbus_cells(0);
  const AnsweringModbus server(instrument, 0, [&left] {
    return std::vector<Shown>{{"1L", left.load(), false, false}, {"1R", 20.25, false, false}};
  });
  instrument.port = server.port();
  const Station station({instrument});
  ASSERT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].quality == Quality::stable && now.values[1].quality == Quality::stable;
  }));
  const InstrumentNow now = station.look().front();
  EXPECT_EQ(now.state, LinkState::connected);
  EXPECT_EQ(now.says, "");
  EXPECT_EQ(now.address, "modbus-tcp 127.0.0.1:" + std::to_string(server.port()) + ", unit 1");
  EXPECT_EQ(now.values[0].typed, "1.087");
  EXPECT_DOUBLE_EQ(*now.values[0].mean, 1.087);
  EXPECT_EQ(now.values[0].resolution, 0.001);
  EXPECT_EQ(*now.values[1].value, 20.25);
  left = 2.5;
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& seen) {
    return seen.values[0].typed == "2.500" && seen.values[0].quality == Quality::moving;
  }));
}

TEST(Station, ReadsWeightsOverTcpAndOverASerialLine) {
  const AnsweringWeight server({true, 0, true}, deck::LiveUnit::kg, 20.0, 60000.0, [] {
    return std::vector<Shown>{{"indication", 12346.0, false, false}};
  });
  deck::Instrument line = quick(deck::LinkKind::weight_line, 0);
  line.device = server.device();
  line.step_kg = 20.0;
  deck::Instrument network = quick(deck::LinkKind::weight_tcp, server.port());
  for (const deck::Instrument& instrument : {line, network}) {
    const Station station({instrument});
    ASSERT_TRUE(becomes(station, [](const InstrumentNow& now) {
      return now.values[0].quality == Quality::stable;
    }));
    const LiveValue value = station.look().front().values[0];
    EXPECT_EQ(value.place, "indication");
    EXPECT_EQ(value.typed, "12340");  // 12346 to the nearest 20
    EXPECT_EQ(value.resolution, instrument.step_kg > 0.0 ? 20.0 : 1.0);
  }
}

TEST(Station, TellsOverMotionAndZero) {
  std::atomic<int> state = 0;
  const AnsweringWeight server({true, 0, false}, deck::LiveUnit::lb, 10.0, 1000.0, [&state] {
    return std::vector<Shown>{{"indication", 500.0, state == 1, state == 2}};
  });
  const Station station({quick(deck::LinkKind::weight_tcp, server.port())});
  ASSERT_TRUE(becomes(
      station, [](const InstrumentNow& now) { return now.values[0].quality == Quality::stable; }));
  EXPECT_EQ(station.look().front().values[0].unit, deck::LiveUnit::lb);
  state = 1;
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].says == "the instrument says that it moves" &&
           now.values[0].quality == Quality::moving;
  }));
  state = 2;
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].says.starts_with("over:") && now.values[0].quality == Quality::bad &&
           !now.values[0].value;
  }));
}

TEST(Station, TellsWhichRegisterIsNotThere) {
  deck::Instrument instrument = modbus_cells(0);
  const AnsweringModbus server(instrument, 0, [] {
    return std::vector<Shown>{{"1L", 1.0, false, false}, {"1R", 2.0, false, true}};
  });
  instrument.port = server.port();
  instrument.registers.push_back(place("2L", 4, deck::RegisterType::int32));
  const Station station({instrument});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].value == 1.0 && now.values[1].says.find("NaN") != std::string::npos &&
           now.values[2].says.starts_with("exception 2") && now.values[2].quality == Quality::bad &&
           now.state == LinkState::connected;
  }));
}

// ---------------------------------------------------------------------------------- hostile ways

TEST(Station, TellsAPortThatRefuses) {
  int port = 0;
  {
    port = Peer([](int, const std::atomic<bool>&) {}).port();
  }
  const Station station({modbus_cells(port)});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.state == LinkState::refused &&
           now.says.find("refuses the connection") != std::string::npos && now.next_try_ms > 0;
  }));
  EXPECT_EQ(station.look().front().values[0].quality, Quality::silent);
}

TEST(Station, TellsASilentInstrumentAndTriesAgain) {
  const Peer peer(answering([](const std::string&) { return std::string(); }));
  const Station station({modbus_cells(peer.port())});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.state == LinkState::waiting && now.says == "no answer";
  }));
  EXPECT_TRUE(becomes(station, [&](const InstrumentNow&) { return peer.connections() > 1; }));
}

TEST(Station, TakesAnAnswerByteByByte) {
  const Peer peer([](int fd, const std::atomic<bool>& over) {
    bool gone = false;
    while (!over && !gone) {
      const std::string question = hear(fd, gone);
      if (question.empty()) continue;
      for (const char byte : sound_answer(question)) {
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
        if (!say(fd, {byte})) return;
      }
    }
  });
  const Station station({modbus_cells(peer.port())});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].value.has_value() && now.state == LinkState::connected;
  }));
}

TEST(Station, GivesUpOnAnAnswerThatNeverEnds) {
  const Peer peer(
      answering([](const std::string& question) { return sound_answer(question).substr(0, 9); }));
  const Station station({modbus_cells(peer.port())});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.says == "an answer began and did not end" && now.state == LinkState::waiting;
  }));
}

TEST(Station, BelievesNoAnswerToAnotherQuestion) {
  const auto told = [](const std::function<std::string(const std::string&)>& reply,
                       const std::string& wanted) {
    const Peer peer(answering(reply));
    const Station station({modbus_cells(peer.port())});
    EXPECT_TRUE(becomes(station, [&](const InstrumentNow& now) {
      return now.says.find(wanted) != std::string::npos;
    })) << wanted;
    EXPECT_FALSE(station.look().front().values[0].value) << wanted;
  };
  told(
      [](const std::string& question) {
        std::string answer = sound_answer(question);
        answer[1] = static_cast<char>(answer[1] + 100);
        return answer;
      },
      "questions that were not asked");
  told(
      [](const std::string& question) {
        std::string answer = sound_answer(question);
        answer[6] = 9;
        return answer;
      },
      "unit 9 answered");
  told(
      [](const std::string& question) {
        std::string answer = sound_answer(question);
        answer[7] = 4;
        return answer;
      },
      "function 4 was answered");
  told(
      [](const std::string& question) {
        std::string answer = sound_answer(question);
        return answer.substr(0, 5) + '\x05' + answer.substr(6, 2) + "\x02\x46\x40";
      },
      "2 bytes of registers, and 8");
  told([](const std::string&) { return std::string("HTTP/1.1 400 Bad Request\r\n\r\n"); },
       "does not speak Modbus");
}

TEST(Station, TellsNoNumbersAndEndsOfRange) {
  const Peer peer(answering([](const std::string& question) {
    std::string answer = sound_answer(question);
    return answer.replace(9, 8, std::string("\x7F\xFF\xFF\xFF\x7F\xC0\x00\x00", 8));
  }));
  const Station station({modbus_cells(peer.port())});
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].says.find("end of its range") != std::string::npos &&
           now.values[1].says.find("NaN") != std::string::npos &&
           now.values[0].quality == Quality::bad && now.state == LinkState::connected;
  }));
}

TEST(Station, HoldsAbsurdJumpsForMovement) {
  std::atomic<int> asked = 0;
  const Peer peer(answering([&asked](const std::string& question) {
    std::string answer = sound_answer(question);
    return ++asked % 2 == 0 ? answer.replace(9, 1, "\x01") : answer;
  }));
  const Station station({modbus_cells(peer.port())});
  EXPECT_TRUE(becomes(station, [&](const InstrumentNow& now) {
    return asked > 12 && now.values[0].value.has_value();
  }));
  EXPECT_NE(station.look().front().values[0].quality, Quality::stable);
}

TEST(Station, GoesStaleAndComesBack) {
  std::atomic<bool> mute = false;
  const Peer peer([&mute](int fd, const std::atomic<bool>& over) {
    bool gone = false;
    while (!over && !gone) {
      const std::string question = hear(fd, gone);
      if (!question.empty() && !mute && !say(fd, sound_answer(question))) return;
    }
  });
  const Station station({modbus_cells(peer.port())});
  ASSERT_TRUE(
      becomes(station, [](const InstrumentNow& now) { return now.values[0].value.has_value(); }));
  mute = true;
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].quality == Quality::stale && now.values[0].value &&
           now.values[0].age_ms > 400;
  }));
  mute = false;
  EXPECT_TRUE(becomes(station, [](const InstrumentNow& now) {
    return now.values[0].quality == Quality::moving || now.values[0].quality == Quality::stable;
  }));
}

TEST(Station, LooksAtOnceAndKeepsItsMemoryWhileSomebodyBabbles) {
  // as fast as a wire can: what comes is no reply, and begins like one
  const auto babble = [](int fd, const std::atomic<bool>& over) {
    const std::string piece = "\n 1G  " + std::string(16000, 'x');
    while (!over && say(fd, piece)) {
    }
  };
  const Peer first(babble);
  const Peer second(babble);
  const std::size_t before_kB = resident_kB();
  const Station station(
      {quick(deck::LinkKind::weight_tcp, first.port()), modbus_cells(second.port())});
  const Clock::time_point begin = Clock::now();
  int looks = 0;
  while (seconds_since(begin) < 1.5) {
    static_cast<void>(station.look());
    ++looks;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  const std::vector<InstrumentNow> now = station.look();
  EXPECT_FALSE(now[0].values[0].value);
  EXPECT_NE(now[0].says.find("no reply of this protocol"), std::string::npos) << now[0].says;
  EXPECT_FALSE(now[1].values[0].value);
  EXPECT_NE(now[1].says, "");
  EXPECT_GT(looks, 20) << "a look waited for an answer, with the lock held";
  EXPECT_LT(resident_kB() - before_kB, 16U * 1024U);
}

TEST(Station, EndsWithinASecondWhateverItsInstrumentsDo) {
  const Peer silent(answering([](const std::string&) { return std::string(); }));
  const Peer cut(
      answering([](const std::string& question) { return sound_answer(question).substr(0, 9); }));
  std::vector<deck::Instrument> instruments = {
      modbus_cells(silent.port()), modbus_cells(cut.port()),
      quick(deck::LinkKind::weight_tcp, silent.port()), modbus_cells(1), modbus_cells(1)};
  for (deck::Instrument& instrument : instruments) instrument.timeout_s = 30.0;
  instruments[3].host = "192.0.2.1";             // RFC 5737: an address that is nobody's
  instruments[4].host = "no-such-host.invalid";  // RFC 2606: a name that is nobody's
  deck::Instrument line = quick(deck::LinkKind::modbus_rtu, 0);
  line.device = "/dev/null";
  instruments.push_back(line);
  std::vector<InstrumentNow> now;
  Clock::time_point begin;
  {
    const Station station(instruments);
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    now = station.look();
    begin = Clock::now();
  }
  EXPECT_LT(seconds_since(begin), 10.0) << "they waited for their timeouts of 30 s";
  EXPECT_NE(now[5].says.find("/dev/null is no serial port"), std::string::npos) << now[5].says;
}

TEST(Station, WithoutInstrumentsIsEmpty) {
  EXPECT_TRUE(Station({}).look().empty());
}

TEST(Answering, ServesSeveralClientsAndLetsGoWhoSpeaksNonsense) {
  deck::Instrument instrument = modbus_cells(0);
  const AnsweringModbus server(instrument, 0, [] {
    return std::vector<Shown>{{"1L", 1.0, false, false}, {"1R", 2.0, false, false}};
  });
  instrument.port = server.port();
  Stop stop;
  HostLookup lookup;
  Opened odd = open_tcp(lookup, "127.0.0.1", server.port(), 1.0, stop);
  Opened slow = open_tcp(lookup, "127.0.0.1", server.port(), 1.0, stop);
  ASSERT_TRUE(odd.descriptor && slow.descriptor);
  EXPECT_TRUE(send_all(odd.descriptor.value(), "GET / HTTP/1.1\r\n\r\n", 1.0, stop));
  EXPECT_TRUE(send_all(slow.descriptor.value(), std::string("\0\1\0", 3), 1.0, stop));
  const Station one({instrument});
  const Station two({instrument});
  const auto both = [](const InstrumentNow& now) { return now.values[1].value == 2.0; };
  EXPECT_TRUE(becomes(one, both));
  EXPECT_TRUE(becomes(two, both));
  EXPECT_EQ(stop.readable(odd.descriptor.value(), 1.0), Stop::Ready::yes);
  char byte = 0;
  EXPECT_TRUE(receive_now(odd.descriptor.value(), &byte, 1).ended);
}

TEST(Answering, SaysWhenAPortIsTaken) {
  const deck::Instrument instrument = modbus_cells(0);
  const auto show = [] { return std::vector<Shown>{}; };
  const AnsweringModbus first(instrument, 0, show);
  EXPECT_THROW(AnsweringModbus(instrument, first.port(), show), std::system_error);
}

}  // namespace
}  // namespace weighwright::link
