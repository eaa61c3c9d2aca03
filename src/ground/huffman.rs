//! Huffman codes of limited length, in the order in which deflate counts them (RFC 1951, 3.2.2).

use crate::ground::bits::Code;

/// Lengths of a Huffman code of at most so many bits. Fewer than two symbols have one bit each.
pub fn code_lengths<const N: usize>(counts: &[u32; N], longest: usize) -> [u8; N] {
    let mut lengths = [0; N];
    let mut used: Vec<(u32, usize)> = (0..N).filter(|at| counts[*at] > 0).map(|at| (counts[at], at)).collect();
    if used.len() < 2 {
        for (_, symbol) in &used {
            lengths[*symbol] = 1;
        }
        return lengths;
    }
    used.sort_unstable();
    let mut depths = tree_depths(&used, longest);
    // Where codes that were too long are cut, shorter ones make room for them.
    let space = 1_usize << longest;
    let mut taken: usize = depths.iter().enumerate().skip(1).map(|(depth, codes)| codes << (longest - depth)).sum();
    while taken > space {
        let depth = (1..longest).rev().find(|depth| depths[*depth] > 0).expect("a tree has leaves above the lowest");
        depths[longest] -= 1;
        depths[depth] -= 1;
        depths[depth + 1] += 2;
        taken -= 1;
    }
    // The most frequent symbols have the shortest codes.
    let shortest_first = depths.iter().enumerate().flat_map(|(depth, codes)| std::iter::repeat_n(depth, *codes));
    used.iter().rev().zip(shortest_first).for_each(|((_, symbol), depth)| lengths[*symbol] = depth as u8);
    lengths
}

/// How many leaves of the tree stand at each depth; those below `longest` count there. From two queues, of leaves and of
/// nodes in the order in which they are made.
fn tree_depths(used: &[(u32, usize)], longest: usize) -> Vec<usize> {
    let leaves = used.len();
    let nodes = 2 * leaves - 1;
    let mut weight: Vec<u32> = used.iter().map(|(count, _)| *count).collect();
    let mut parent = vec![0; nodes];
    let (mut leaf, mut node) = (0, leaves);
    for made in leaves..nodes {
        let mut sum = 0;
        for _ in 0..2 {
            let next =
                if leaf < leaves && (node >= made || weight[leaf] <= weight[node]) { &mut leaf } else { &mut node };
            parent[*next] = made;
            sum += weight[*next];
            *next += 1;
        }
        weight.push(sum);
    }
    let mut depth = vec![0; nodes];
    let mut depths = vec![0; longest + 1];
    for at in (0..nodes - 1).rev() {
        depth[at] = depth[parent[at]] + 1;
        if at < leaves {
            depths[depth[at].min(longest)] += 1;
        }
    }
    depths
}

/// Codes of these lengths (RFC 1951, 3.2.2), their first bit lowest.
pub fn codes<const N: usize>(lengths: &[u8; N]) -> [Code; N] {
    let mut counts = [0_u16; 16];
    lengths.iter().filter(|length| **length > 0).for_each(|length| counts[usize::from(*length)] += 1);
    let mut next = [0_u16; 16];
    for length in 1..15 {
        next[length + 1] = (next[length] + counts[length]) << 1;
    }
    lengths.map(|length| {
        let own = &mut next[usize::from(length)];
        let bits = if length == 0 { 0 } else { u32::from(own.reverse_bits() >> (16 - u16::from(length))) };
        *own += u16::from(length > 0);
        Code { bits, length: u32::from(length) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::block::trial::noise;

    #[test]
    fn codes_fill_their_space_and_none_is_too_long() {
        let mut seed = 3;
        for longest in [7, 12] {
            for _ in 0..200 {
                let counts: [u32; 19] = std::array::from_fn(|_| 1 << (noise(&mut seed) % 20));
                let lengths = code_lengths(&counts, longest);
                let taken: usize = lengths.iter().map(|length| 1_usize << (longest - usize::from(*length))).sum();
                assert_eq!(taken, 1 << longest, "{lengths:?}");
            }
        }
    }
}
