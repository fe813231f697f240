bayleaf.words("us",{"use":"2:t"});
