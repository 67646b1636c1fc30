// Memory for what all members are seen to do: hundreds of megabytes, written once and read once.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <new>
#include <utility>
#ifdef __linux__
#include <sys/mman.h>
#endif

namespace barm::brew {

/// Leaves numbers as they lie instead of setting them to zero, and asks the system for large pages where there are
/// many: with small ones a large run spends a fifth of its time being given memory. Where the system has none to give,
/// nothing changes but the time.
template <class T>
struct LargePages {
  using value_type = T;
  static constexpr std::size_t page_bytes = std::size_t{2} << 20;  // of x86-64 and ARM64; elsewhere only an alignment
  LargePages() = default;
  template <class U>
  LargePages(const LargePages<U>&) {}

  T* allocate(std::size_t count) {
    const std::size_t bytes = count * sizeof(T);
    if (bytes < 2 * page_bytes) return static_cast<T*>(::operator new(bytes));
    const std::size_t whole = (bytes + page_bytes - 1) / page_bytes * page_bytes;
    void* at = std::aligned_alloc(page_bytes, whole);
    if (at == nullptr) throw std::bad_alloc();
#ifdef __linux__
    madvise(at, whole, MADV_HUGEPAGE);
#endif
    return static_cast<T*>(at);
  }
  void deallocate(T* at, std::size_t count) {
    if (count * sizeof(T) < 2 * page_bytes)
      ::operator delete(at);
    else
      std::free(at);
  }
  template <class U>
  void construct(U* at) {
    ::new (static_cast<void*>(at)) U;
  }
  template <class U, class... With>
  void construct(U* at, With&&... with) {
    ::new (static_cast<void*>(at)) U(std::forward<With>(with)...);
  }
  bool operator==(const LargePages&) const = default;
};

}  // namespace barm::brew
