bayleaf.words("us",{"use":"2:t","used":"2:k"});
