#pragma once
/// Waits until a file has been saved, however its editor does that: written over, renamed into place, or written anew
/// while the old one is put aside as a backup.
#include <string>
#include <utility>
#include <vector>

namespace dryfit::cli {

/// Watches the folder of the file, and of what it links to, by the system's own means (inotify). What another machine
/// does to a folder of the network is not seen.
class FileWatch {
 public:
  /// Watching begins at once: what happens from here on is not missed. Throws UsageError when the folder cannot be
  /// watched.
  explicit FileWatch(std::string path);
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  /// Waits until something was done to the file and it has been left alone for a moment, so that a save in several
  /// parts counts once. False: the program was told to end (see EndQuietly). Throws UsageError when the folder is gone.
  [[nodiscard]] bool wait();

 private:
  void watch_all();
  void add(const std::string& path);
  /// Takes what has been reported. True when some of it is about the file.
  bool take();

  std::string path_;
  int inotify_;
  int own_folder_ = -1;
  std::vector<std::pair<int, std::string>> names_;  ///< watched folder and name in it
  bool unfinished_ = false;                         ///< the file is open for writing, or gone
};

/// While it lives, SIGINT, SIGTERM and SIGHUP end the program with exit code 0: a wait returns, and other work ends
/// where it is, but never within write_file().
class EndQuietly {
 public:
  EndQuietly();
  ~EndQuietly();
  EndQuietly(const EndQuietly&) = delete;
  EndQuietly& operator=(const EndQuietly&) = delete;
};

}  // namespace dryfit::cli
